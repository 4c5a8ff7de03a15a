// A proposal laid over the base of a house file, as trees, before anything is read from them.
#pragma once

#include "networks/document.hpp"

#include <memory>

namespace headroom::networks {

/// The base with the changes laid over it. A map's keys are laid over one by one; `none` takes a
/// key away; a map that says `replace: yes` stands in place of the base's. Items of a list are
/// matched by what names them (run, radiator, loop, bypass, room, ...): one that matches is laid
/// over its twin, or takes it away with `remove: yes`; others are added at the end. Everything
/// keeps the place it came from. A name that fits several items of the base is a fault.
std::unique_ptr<Entry> laid_over(const Entry &base, const Entry &changes, Diagnostics &diagnostics);

} // namespace headroom::networks
