#include "audit/observations.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <functional>
#include <map>
#include <set>

#include "audit/complaints.hpp"
#include "audit/fisher.hpp"
#include "audit/frost_class.hpp"
#include "units/calendar.hpp"

namespace wm::audit {

namespace {

constexpr int many_hasty = 5;
constexpr std::int64_t least_jobs = 2;
constexpr double chance_asked_below = 0.01;

bool lies_within(const std::string& day, const std::string& first, const std::string& last) {
    return day >= first && day <= last;
}

/// Jobs of a crew that show something, of all its jobs looked at.
struct Shown {
    Tally tally;
    std::vector<std::string> jobs;
    int hasty = 0;  ///< of those shown, with any haste
};

// Crews that show it in two jobs or more and more often than chance among the others.
void ask_crews(std::vector<Observation>& all, const AuditTable& table, const ObservationSpan& span,
               const std::function<bool(const JobTrace&)>& shows,
               const std::function<Observation(const Shown&, const Tally& others)>& worded) {
    std::map<std::string, Shown> crews;
    Tally total;
    for (const auto& trace : table.traces) {
        const auto& job = table.jobs[trace.job];
        if (!lies_within(job.day, span.first_recent_day, span.last_day)) continue;
        auto& crew = crews[job.crew];
        ++crew.tally.tries;
        ++total.tries;
        if (!shows(trace)) continue;
        ++crew.tally.failed;
        ++total.failed;
        crew.hasty += trace.hasty > 0 ? 1 : 0;
        crew.jobs.push_back(job.job);
    }
    for (const auto& [crew, shown] : crews) {
        const Tally others{total.failed - shown.tally.failed, total.tries - shown.tally.tries};
        if (shown.tally.failed < least_jobs || others.tries == 0) continue;
        const auto test = fisher_exact({shown.tally, others});
        if (!test || test->greater >= chance_asked_below) continue;
        auto observation = worded(shown, others);
        observation.subject = crew;
        observation.jobs = shown.jobs;
        observation.sentence = fmt::format("Crew {} {}", crew, observation.sentence);
        all.push_back(std::move(observation));
    }
}

void ask_equal_readings(std::vector<Observation>& all, const AuditTable& table, const CheckCards& cards,
                        const ObservationSpan& span) {
    std::set<std::string> checks;
    for (const auto& trace : table.traces) checks.insert(trace.alike.begin(), trace.alike.end());
    for (const auto& check : checks)
        ask_crews(
            all, table, span,
            [&](const JobTrace& trace) { return std::find(trace.alike.begin(), trace.alike.end(), check) != trace.alike.end(); },
            [&](const Shown& shown, const Tally& others) {
                Observation asked;
                asked.kind = "equal readings";
                asked.check = check;
                asked.sentence = fmt::format(
                    "wrote one and the same figure at every place of \"{}\" in {} of {} jobs; the others in {} of {}. In {} of "
                    "these jobs readings also came 1 to 3 s apart. How were they read?",
                    title_of(cards, check), shown.tally.failed, shown.tally.tries, others.failed, others.tries, shown.hasty);
                asked.what_to_do =
                    "Ask the crew first: a tool that clicks at its setting gives equal figures. Then measure again at two "
                    "of these jobs, together.";
                return asked;
            });
}

void ask_pace(std::vector<Observation>& all, const AuditTable& table, const ObservationSpan& span) {
    ask_crews(
        all, table, span, [](const JobTrace& trace) { return trace.hasty >= many_hasty; },
        [](const Shown& shown, const Tally& others) {
            Observation asked;
            asked.kind = "pace";
            asked.sentence = fmt::format(
                "wrote {} or more readings 1 to 3 s after the one before in {} of {} jobs; the others in {} of {}. Were they "
                "noted on paper first?",
                many_hasty, shown.tally.failed, shown.tally.tries, others.failed, others.tries);
            asked.what_to_do = "Ask the crew how they write down; if it is from paper, the time of reading can be given.";
            return asked;
        });
}

void ask_photos(std::vector<Observation>& all, const AuditTable& table, const CheckCards& cards,
                const ObservationSpan& span) {
    struct Use {
        std::set<std::size_t> jobs;
        std::string check;
    };
    std::map<std::string, Use> used;
    for (const auto& trace : table.traces) {
        if (!lies_within(table.jobs[trace.job].day, span.first_day, span.last_day)) continue;
        for (const auto& photo : trace.photos) {
            auto& use = used[photo.fingerprint];
            use.jobs.insert(trace.job);
            if (use.check.empty()) use.check = photo.check;
        }
    }
    // One question to a crew for each check, however many photos there are.
    std::map<std::pair<std::string, std::string>, std::set<std::pair<std::string, std::string>>> asked_of;
    for (const auto& [fingerprint, use] : used) {
        if (use.jobs.size() < 2) continue;
        const auto latest = *std::max_element(use.jobs.begin(), use.jobs.end(), [&](std::size_t a, std::size_t b) {
            return table.jobs[a].day < table.jobs[b].day;
        });
        if (table.jobs[latest].day < span.first_day_of_week) continue;
        auto& jobs = asked_of[{table.jobs[latest].crew, use.check}];
        for (const auto job : use.jobs) jobs.emplace(table.jobs[job].day, table.jobs[job].job);
    }
    for (const auto& [who, jobs] : asked_of) {
        Observation asked;
        asked.kind = "one photo twice";
        asked.subject = who.first;
        asked.check = who.second;
        for (const auto& [day, job] : jobs) asked.jobs.push_back(job);
        asked.sentence = fmt::format("One and the same photo stands under \"{}\" in {}. Which of these homes does it show?",
                                     title_of(cards, asked.check), fmt::join(asked.jobs, ", "));
        asked.what_to_do = "Ask the crew; take the missing photo at the next visit, and look at what it should show.";
        all.push_back(std::move(asked));
    }
}

void ask_neighbours(std::vector<Observation>& all, const AuditTable& table, const ObservationSpan& span) {
    std::map<std::string, std::map<std::string, std::vector<const JobCard*>>> streets;
    for (const auto& job : table.jobs)
        if (!job.frost_class.empty() && !job.street.empty() && lies_within(job.day, span.first_day, span.last_day))
            streets[job.street][job.frost_class].push_back(&job);
    for (const auto& [street, classes] : streets) {
        if (classes.size() < 2) continue;
        const auto boldest = std::max_element(classes.begin(), classes.end(), [](const auto& a, const auto& b) {
            return boldness(a.first) < boldness(b.first);
        });
        Observation asked;
        asked.kind = "neighbours differ";
        asked.subject = street;
        std::vector<std::string> counts;
        for (const auto& [name, jobs] : classes) counts.push_back(fmt::format("{} as \"{}\"", jobs.size(), name));
        std::int64_t direct = 0;
        for (const auto* job : boldest->second) {
            asked.jobs.push_back(job->job);
            direct += job->system == "direct" ? 1 : 0;
        }
        asked.sentence = fmt::format("Homes in {} were surveyed differently for frost: {}. Neighbours share one climate.",
                                     street, fmt::join(counts, ", "));
        if (direct > 0)
            asked.sentence += fmt::format(" {} of those taken for \"{}\" have a direct system, which bursts when it freezes.",
                                          direct, boldest->first);
        asked.what_to_do = "Find out which is right before the first frost. Until then treat these homes as the colder class.";
        all.push_back(std::move(asked));
    }
}

Observation came_back(const JobCard& job, const JobCard& earlier, const CheckResult& result, const CheckCards& cards) {
    Observation asked;
    asked.kind = "came back";
    asked.subject = earlier.crew;
    asked.check = result.check;
    asked.jobs = {job.job, earlier.job};
    asked.sentence = fmt::format("\"{}\" did not conform at the visit {}, {} days after {} of crew {}.", title_of(cards, result.check),
                                 job.job, units::days_between(earlier.day, result.day).value_or(0), earlier.job, earlier.crew);
    asked.what_to_do = "Look what the earlier job recorded of it, and whether homes done alike have the same.";
    return asked;
}

void ask_what_came_back(std::vector<Observation>& all, const Columns& columns, const CheckCards& cards,
                        const ObservationSpan& span) {
    const Day first = day_code(span.first_day_of_week);
    const Day last = day_code(span.last_day);
    for (std::size_t visit = 0; visit < columns.job_count(); ++visit) {
        const auto& job = columns.card(visit);
        const auto& codes = columns.codes(visit);
        if (job.after.empty() || job.kind == "commissioning" || codes.failed == 0 || codes.last_day < first || codes.first_day > last) continue;
        const auto earlier = columns.job_named(job.after);
        if (!earlier) continue;
        const auto range = columns.results_of(visit);
        for (auto row = range.first; row < range.last; ++row) {
            const auto result = columns.result(visit, row);
            if (!result.failed || !lies_within(result.day, span.first_day_of_week, span.last_day)) continue;
            all.push_back(came_back(job, columns.card(*earlier), result, cards));
        }
    }
}
}  // namespace

std::vector<Observation> observations_of(const Columns& columns, const CheckCards& cards, const ObservationSpan& span) {
    const auto& table = columns.rest();
    std::vector<Observation> all;
    ask_neighbours(all, table, span);
    for (auto& asked : surveys_behind_complaints(columns, span.links, span)) all.push_back(std::move(asked));
    ask_what_came_back(all, columns, cards, span);
    ask_equal_readings(all, table, cards, span);
    ask_pace(all, table, span);
    ask_photos(all, table, cards, span);
    return all;
}

}  // namespace wm::audit
