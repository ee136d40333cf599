// Time stamps on reports, at the handover or afterwards on a report issued again.
#pragma once

#include <string>
#include <string_view>

#include "desk/desk.hpp"
#include "digest/company.hpp"
#include "handover/pdf_book.hpp"
#include "problem/result.hpp"

namespace wm::desk {

/// The moment as a report prints it.
[[nodiscard]] handover::Moment printed_moment(Moment moment);

/// The seal over `covered`, with a time stamp if a stamp server is set and answers; else without,
/// and `unstamped` says why not ("" where no server is set).
[[nodiscard]] Result<std::string> sealed_with_stamp(const Setup& setup, const digest::CompanyKeys& company,
                                                    std::string_view covered, std::string& unstamped);

struct ReissuedView {
    std::string report;     ///< the sealed PDF
    std::string sha256;
    std::string first;      ///< SHA-256 of the report it stands for
    std::string unstamped;  ///< why it has no time stamp; "" if it has
};

/// The sealed report of a job once more, page for page, behind it a sheet that names the first by its
/// SHA-256: sealed now, and stamped if a server is set. The journal holds the first and knows this one
/// by it. A problem where the job is not handed over, or its report is erased.
[[nodiscard]] Result<ReissuedView> reissue_report(Desk& desk, const std::string& job);

}  // namespace wm::desk
