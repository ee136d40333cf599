// The week of all crews, from the office's record in PostgreSQL: the figures of a data folder that holds the same entries.
#pragma once

#include <string>
#include <vector>

#include "audit/week.hpp"
#include "checklist/failure_list.hpp"
#include "desk/desk.hpp"
#include "desk/devices.hpp"
#include "exchange/office_store.hpp"

namespace wm::desk {

/// Who looks, and with what.
struct OfficeReader {
    const checklist::Library& library;
    checklist::FailureList failures;
    Moment now;
    const store::Keys& keys;  ///< open the words whose customers are known here; Keys::none() opens none
    LookingDevice looking;    ///< of the office's own data folder, empty without one
};

/// Every job is read and folded anew, a hundred at a time; a crew's role counts its own jobs. Refusals as of week_view().
[[nodiscard]] Result<WeekView> office_week(exchange::OfficeStore& office, const OfficeReader& reader, const std::string& week,
                                           const audit::WeekSettings& settings);
[[nodiscard]] Result<std::vector<std::string>> office_weeks(exchange::OfficeStore& office, const store::Keys& keys);

}  // namespace wm::desk
