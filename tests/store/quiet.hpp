// What the harness itself does while something is made to fail around it.
#pragma once

namespace wm::store::testing {

/// Above 0 while a disk in memory works: its own memory is never refused.
inline thread_local int quiet = 0;

struct Quiet {
    Quiet() { ++quiet; }
    ~Quiet() { --quiet; }
    Quiet(const Quiet&) = delete;
    Quiet& operator=(const Quiet&) = delete;
};

}  // namespace wm::store::testing
