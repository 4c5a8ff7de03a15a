# Writes commit.hpp at each build, only if the commit has changed.
cmake_minimum_required(VERSION 3.25)
execute_process(COMMAND git -C ${SOURCE} describe --always --dirty --abbrev=12 --exclude=*
                OUTPUT_VARIABLE COMMIT OUTPUT_STRIP_TRAILING_WHITESPACE ERROR_QUIET)
if(NOT COMMIT)
  set(COMMIT unknown)
endif()
file(CONFIGURE OUTPUT ${HEADER} CONTENT "#define COMMIT \"${COMMIT}\"\n")
