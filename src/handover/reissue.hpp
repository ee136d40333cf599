// A sealed report issued again: its pages as they are, and one sheet that says so.
#pragma once

#include <string>
#include <string_view>

#include "handover/report_input.hpp"
#include "problem/result.hpp"

namespace wm::handover {

struct Reissue {
    std::string job;
    std::string company;
    std::string first;  ///< SHA-256 of the sealed report it stands for, 64 hexadecimal digits
    std::string date;   ///< of issuing again
    Moment written;
    FontFiles fonts;
};

/// A file to seal, in our shape. The seal of the first is taken off, for it would not fit a longer
/// file; whoever wants to see it needs the first, whose hash is on the sheet. A problem for bytes that
/// are no sealed report of ours, or that were issued again already (then issue the first again).
[[nodiscard]] Result<std::string> reissued(std::string_view first, const Reissue& facts);

}  // namespace wm::handover
