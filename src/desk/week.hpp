// The week of all jobs at hand.
#pragma once

#include "audit/week.hpp"
#include "checklist/failure_list.hpp"
#include "desk/clock_questions.hpp"
#include "desk/desk.hpp"
#include "desk/devices.hpp"

namespace wm::desk {

/// Titles and severities of all checks.
[[nodiscard]] audit::CheckCards cards_of(const checklist::Library& library);

/// What the audit needs of the catalogue of failures.
[[nodiscard]] audit::SymptomLinks links_of(const checklist::FailureList& list);

/// What the week counts, without what else the desk knows of it: clocks, actions, planned visits, damage. A complaint leads nowhere
/// where the catalogue is empty.
[[nodiscard]] WeekView counted_week(const audit::Columns& columns, const audit::CheckCards& cards, const checklist::FailureList& failures,
                                    const std::string& week, const audit::WeekSettings& settings);

/// What the rest of a week is asked of, whichever store it came from.
struct WeekRecord {
    const audit::Columns& columns;
    std::vector<record::Written> stream;  ///< entries without a job, in_order()
    std::vector<record::Head> heads;
    JobLines lines;
    std::vector<DeviceView> devices;
    WorkOfDevice work;                    ///< in the days of the week
    std::vector<std::pair<std::string, std::string>> visits;  ///< a job and the service job that looks at its house again
    std::vector<std::string> damaged;
};
struct WeekReader {
    const checklist::Library& library;
    checklist::FailureList failures;
    Moment now;
};

/// Monday and Sunday; nothing for what is no ISO week.
struct WeekDays {
    std::string first, last;
};
[[nodiscard]] Result<WeekDays> days_of_week(const std::string& week);

/// Refuses what is no ISO week, and a filter that names what no job has.
[[nodiscard]] Result<WeekView> week_of_record(const WeekRecord& record, const WeekReader& reader, const std::string& week,
                                       const audit::WeekSettings& settings);
/// Jobs that look again at the house of another.
void add_visit(WeekRecord& record, const JobRow& row);

/// Refuses what is no ISO week, and a filter that names what no job has; a week without results gives
/// empty lists.
[[nodiscard]] Result<WeekView> week_view(Desk& desk, const std::string& week,
                                         const audit::WeekSettings& settings = {});
[[nodiscard]] Result<std::vector<std::string>> weeks(Desk& desk);

/// The usual look at a week, for so much of the jobs.
[[nodiscard]] audit::WeekSettings settings_for(const WeekFilterView& filter);

/// What the view is narrowed to, "crew Tindo Quellaby, roof tile, 4 weeks"; empty for one whole week.
[[nodiscard]] std::string in_words(const WeekFilterView& filter, const audit::CheckCards& cards);

/// The week as a letter (PDF), sealed as a report is; unsealed while the company key is locked.
[[nodiscard]] Result<std::string> week_letter(Desk& desk, const WeekView& week);

}  // namespace wm::desk
