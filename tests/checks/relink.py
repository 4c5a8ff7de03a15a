"""The tests of an ordinary build, linked again with models/, networks/ and solver/ compiled in
another way: with counters of coverage, or with small faults. Only those folders are compiled again;
the tests' own objects are taken as they are.
"""
import json
import os
import pathlib
import shlex
import shutil
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
FOLDERS = ("models", "networks", "solver")
SUITES = ["models", "published", "computed", "solver", "networks", "identities", "properties",
          "program", "regression"]


def prepare(build):
    """An ordinary Release build, complete."""
    launcher = ["-DCMAKE_CXX_COMPILER_LAUNCHER=ccache"] if shutil.which("ccache") else []
    must("cmake", "-S", ROOT, "-B", build, "-DCMAKE_BUILD_TYPE=Release",
         "-DCMAKE_EXPORT_COMPILE_COMMANDS=ON", *launcher)
    must("cmake", "--build", build, "-j1")


def must(*command):
    done = subprocess.run([str(c) for c in command], cwd=ROOT, capture_output=True, text=True)
    if done.returncode != 0:
        sys.exit(done.stdout[-3000:] + done.stderr[-3000:])


class Relinked:
    def __init__(self, build, out):
        self.build, self.out = pathlib.Path(build).resolve(), pathlib.Path(out).resolve()
        self.commands = {}  # by source: its compile command and object
        for entry in json.loads((self.build / "compile_commands.json").read_text()):
            source = pathlib.Path(entry["file"])
            if not source.is_relative_to(ROOT):
                continue
            if source.relative_to(ROOT).parts[0] in FOLDERS:
                words = shlex.split(entry["command"])
                at = words.index("-o")
                object_file = (pathlib.Path(entry["directory"]) / words[at + 1]).resolve()
                self.commands[source] = words, object_file

    def object_of(self, source):
        return self.out / self.commands[source][1].relative_to(self.build)

    def compile(self, source, flags, text_from=None):
        """Compiles a source, or another text in its place. The finished process."""
        words, old = self.commands[source]
        new = self.object_of(source)
        new.parent.mkdir(parents=True, exist_ok=True)
        words = words[:words.index("-o")] + flags + ["-o", str(new), "-c",
                                                     str(text_from or source)]
        return subprocess.run(words, cwd=self.build, capture_output=True, text=True)

    def link(self):
        """Archives of the new objects, and with them the program and every suite."""
        for source in self.commands:
            if not self.object_of(source).exists():
                shutil.copy(self.commands[source][1], self._made(self.object_of(source)))
        archives = {}
        for folder, library in (("models", "models"), ("networks", "networks"),
                                ("solver", "engine")):
            script = self.build / folder / "CMakeFiles" / f"{library}.dir" / "link.txt"
            words = shlex.split(script.read_text().split("\n")[0])
            objects = [self.out / folder / w for w in words if w.endswith(".o")]
            archives[f"lib{library}.a"] = archive = self.out / f"lib{library}.a"
            archive.unlink(missing_ok=True)
            must("ar", "qcs", archive, *objects)
        self._link("solver", "headroom", archives)
        for suite in SUITES:
            self._link("tests", f"test_{suite}", archives)

    def _made(self, path):
        path.parent.mkdir(parents=True, exist_ok=True)
        return path

    def _link(self, folder, target, archives):
        script = self.build / folder / "CMakeFiles" / f"{target}.dir" / "link.txt"
        words = shlex.split(script.read_text())
        where = self.build / folder
        for i, word in enumerate(words):
            name = os.path.basename(word)
            if name in archives:
                words[i] = str(archives[name])
            elif word.endswith(".o") and folder == "solver":
                words[i] = str(self.out / folder / word)
        if folder == "tests":
            words[1:1] = self.suite_objects
        words[words.index("-o") + 1] = str(self._made(self.binary(target)))
        done = subprocess.run(words + self.link_flags, cwd=where, capture_output=True, text=True)
        if done.returncode != 0:
            sys.exit(done.stderr[-3000:])

    link_flags = []
    suite_objects = []  # before their own: another main

    def binary(self, target):
        return self.out / "bin" / target

    def environment(self, **more):
        """For the suites: the program they start is the new one."""
        return {**os.environ, "HEADROOM_PROGRAM": str(self.binary("headroom")), **more}
