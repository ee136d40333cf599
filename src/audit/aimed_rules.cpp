// The rules are common practice of the trade, no source but where one is named.
#include "audit/aimed_rules.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "audit/draw.hpp"
#include "audit/likeness.hpp"
#include "units/calendar.hpp"

namespace wm::audit {

namespace {

using Jobs = std::vector<std::size_t>;

/// What the rules look at: the jobs handed over, oldest first, and what went wrong in the season.
class Lot {
public:
    Lot(const Columns& columns, const AimedSpan& span) : columns_{columns}, span_{span} {
        for (std::size_t job = 0; job < columns.job_count(); ++job)
            if (is_work(job) && !handed(job).empty() && handed(job) <= span.last_day) finished_.push_back(job);
        std::stable_sort(finished_.begin(), finished_.end(), [&](std::size_t a, std::size_t b) { return handed(a) < handed(b); });
        note_results();
        note_frost();
        for (const auto& row : columns.rest().deferrals)
            if (row.check == "temp-rise" && row.since <= span.last_day && (row.closed.empty() || row.closed > span.last_day)) put_off_.insert(row.job);
        for (const auto& trace : columns.rest().traces)
            if (std::find(trace.alike.begin(), trace.alike.end(), "anchor-torque") != trace.alike.end()) alike_.insert(trace.job);
        bad_batches_.erase("");
    }

    [[nodiscard]] const JobCard& card(std::size_t job) const { return columns_.card(job); }
    [[nodiscard]] const std::string& handed(std::size_t job) const { return card(job).visit.handed_over; }
    [[nodiscard]] const AimedSpan& span() const { return span_; }
    [[nodiscard]] const Jobs& finished() const { return finished_; }
    [[nodiscard]] bool crossed_ports(std::size_t job) const { return crossed_.contains(card(job).crew); }
    [[nodiscard]] bool waits_for_sun(std::size_t job) const { return put_off_.contains(job); }
    [[nodiscard]] bool all_alike(std::size_t job) const { return alike_.contains(job); }
    [[nodiscard]] bool has_bad_batch(std::size_t job) const {
        return bad_batches_.contains(batch(job, "relief valve")) || bad_batches_.contains(batch(job, "limiting valve"));
    }
    [[nodiscard]] bool failed(std::size_t job, std::string_view check) const {
        const auto range = columns_.results_of(job);
        for (auto row = range.first; row < range.last; ++row)
            if (columns_.failed(row) && columns_.check(row) == check) return true;
        return false;
    }
    /// More than twice the share of all crews together.
    [[nodiscard]] bool leaves_ends_open(std::size_t job) const {
        const auto own = ends_.find(card(job).crew);
        return own != ends_.end() && ends_all_.failed > 0 && own->second.share() > 2.0 * ends_all_.share();
    }
    [[nodiscard]] bool frost_is_near() const { return frost_is_near_; }

private:
    // A survey or a service visit has nothing new on the roof; where no kind is said it is work.
    [[nodiscard]] bool is_work(std::size_t job) const { return card(job).kind.empty() || card(job).kind == "commissioning"; }
    void note_results() {
        const auto& names = columns_.names().check;
        const auto ends = names.find("ins-ends"), ports = names.find("tank-ports"), lever = names.find("relief-lever"), limit = names.find("pressure-limit-set");
        const Day season = day_code(span_.first_day), week = day_code(span_.first_day_of_week), last = day_code(span_.last_day);
        for (std::size_t job = 0; job < columns_.job_count(); ++job) {
            if (columns_.codes(job).last_day < season) continue;
            for (auto row = columns_.results_of(job).first; row < columns_.results_of(job).last; ++row) {
                const Day day = columns_.results().day[row];
                const auto check = columns_.results().check[row];
                if (day < season || day > last) continue;
                if (check == ends) note_ends(card(job).crew, columns_.failed(row));
                if (!columns_.failed(row)) continue;
                if (check == ports && day >= week) crossed_.insert(card(job).crew);
                if (check == lever || check == limit)
                    for (const auto material : materials_behind(names.text(check))) bad_batches_.insert(batch(job, material));
            }
        }
    }
    // In the week near frost was felt for the first time in the season: a plate under a clear sky is colder than the air.
    void note_frost() {
        constexpr double near_frost_c = 5.0;
        bool before = false;
        for (std::size_t job = 0; job < columns_.job_count(); ++job) {
            const auto& air = card(job).visit.air_c;
            const auto& day = card(job).day;
            if (!air || *air > near_frost_c || day < span_.first_day || day > span_.last_day) continue;
            (day < span_.first_day_of_week ? before : frost_is_near_) = true;
        }
        frost_is_near_ = frost_is_near_ && !before;
    }
    [[nodiscard]] std::string batch(std::size_t job, std::string_view material) const {
        const auto found = card(job).batches.find(std::string{material});
        return found == card(job).batches.end() ? "" : fmt::format("{} {}", material, found->second);
    }
    void note_ends(const std::string& crew, bool failed) {
        for (auto* tally : {&ends_[crew], &ends_all_}) {
            ++tally->tries;
            tally->failed += failed ? 1 : 0;
        }
    }

    struct Ends {
        int failed = 0, tries = 0;
        [[nodiscard]] double share() const { return static_cast<double>(failed) / tries; }
    };

    const Columns& columns_;
    const AimedSpan& span_;
    Jobs finished_;
    std::set<std::string> crossed_, bad_batches_;
    std::set<std::size_t> put_off_, alike_;
    std::map<std::string, Ends> ends_;
    Ends ends_all_;
    bool frost_is_near_ = false;
};

enum class Among { Week, Month, Quarter, Season, YearAgo };
enum class Take { Every, Newest, DrawnPerCrew, OneInTenPerCrew, Coldest };

struct AimedRule {
    std::string_view failure, words;
    Among among;
    Take take;
    std::size_t count;
    bool (*wants)(const Lot&, std::size_t job);
};

constexpr std::array rules{
    AimedRule{"air lock in the loop", "newest with more than 3 m of loop pipe", Among::Week, Take::Newest, 2,
              [](const Lot& lot, std::size_t job) { return lot.card(job).visit.loop_run_m.value_or(0.0) > 3.0; }},
    AimedRule{"air lock in the loop", "the proof under sun is still put off", Among::Week, Take::Every, 0,
              [](const Lot& lot, std::size_t job) { return lot.waits_for_sun(job); }},
    AimedRule{"crossed pipes", "its crew swapped ports this week", Among::Week, Take::Every, 0,
              [](const Lot& lot, std::size_t job) { return lot.crossed_ports(job); }},
    AimedRule{"wrong bearing", "a steel roof bends the needle; one of each crew in a quarter", Among::Quarter, Take::DrawnPerCrew, 1,
              [](const Lot& lot, std::size_t job) { return lot.card(job).roof == "metal-sheet"; }},
    AimedRule{"anchors beside the rafter", "one in ten of each crew", Among::Week, Take::OneInTenPerCrew, 0,
              [](const Lot&, std::size_t) { return true; }},
    AimedRule{"bolts that work loose", "all its torque readings are the same", Among::Week, Take::Every, 0,
              [](const Lot& lot, std::size_t job) { return lot.all_alike(job); }},
    AimedRule{"a relief that ends short", "look at the end of the pipe; two of each crew in a month", Among::Month, Take::DrawnPerCrew, 2,
              [](const Lot&, std::size_t) { return true; }},
    AimedRule{"a relief that drips", "a valve of the same batch failed", Among::Week, Take::Every, 0,
              [](const Lot& lot, std::size_t job) { return lot.has_bad_batch(job); }},
    AimedRule{"a dented jacket", "the loop did not take the right amount", Among::Week, Take::Every, 0,
              [](const Lot& lot, std::size_t job) { return lot.failed(job, "loop-volume"); }},
    AimedRule{"frost burst of the absorber", "water in the collector where it freezes", Among::Week, Take::Every, 0,
              [](const Lot& lot, std::size_t job) {
                  const auto& card = lot.card(job);
                  return card.system == "direct" && (card.frost_class == "regular" || card.frost_class == "occasional");
              }},
    AimedRule{"frost burst of a cold pipe", "among the three coldest, and frost is near", Among::Season, Take::Coldest, 3,
              [](const Lot& lot, std::size_t job) { return lot.frost_is_near() && lot.card(job).visit.coldest_c.has_value(); }},
    AimedRule{"open pipe ends", "its crew leaves them open twice as often as all do; two in a month", Among::Month, Take::DrawnPerCrew, 2,
              [](const Lot& lot, std::size_t job) { return lot.leaves_ends_open(job); }},
    AimedRule{"corrosion at galvanised pipe", "handed over a year ago", Among::YearAgo, Take::Every, 0,
              [](const Lot& lot, std::size_t job) { return lot.card(job).visit.pipe == "galvanised"; }},
    AimedRule{"plastic pipe that softens", "the house has mixed pipe", Among::Week, Take::Every, 0,
              [](const Lot& lot, std::size_t job) { return lot.card(job).visit.pipe == "mixed"; }},
    AimedRule{"a controller that fights the sun", "one in ten of each crew with a controller", Among::Week, Take::OneInTenPerCrew, 0,
              [](const Lot& lot, std::size_t job) {
                  const auto& controller = lot.card(job).visit.controller;
                  return !controller.empty() && controller != "none";
              }},
};

constexpr std::array left_out{
    RuleLeftOut{"reverse flow at night", "two raised stores after the first clear cold week", "the audit knows no weather of nights"},
    RuleLeftOut{"shade found too late", "sites with 8 to 10 % shade at the survey", "the audit keeps outcomes, not the survey's figures"},
    RuleLeftOut{"anchors beside the rafter", "all after a gale", "the audit knows no wind but at the work itself"},
    RuleLeftOut{"roof leak", "all drilled mounts after the first heavy rain", "the audit knows no rain but at the work itself"},
    RuleLeftOut{"roof overloaded", "jobs whose set grew heavier after the survey", "the audit does not hold the weights of survey and work side by side"},
    RuleLeftOut{"relief blocked", "jobs another trade has worked at", "nobody records other trades"},
    RuleLeftOut{"vacuum break missing", "vented stores in streets with supply cuts", "nobody records supply cuts"},
    RuleLeftOut{"over-temperature", "small households in the hottest month", "the audit knows no weather"},
    RuleLeftOut{"frost burst of the absorber", "freezing points within 2 K of the limit", "the audit keeps outcomes, not margins"},
    RuleLeftOut{"insulation perishes", "the sunniest jobs of a year ago", "the audit does not know how sunny a place is"},
    RuleLeftOut{"scald at the tap", "vulnerable households in the first sunny month", "the audit knows no weather"},
    RuleLeftOut{"heater trips out", "homes with the heater of a complaint", "no fact names the make of a heater"},
    RuleLeftOut{"element without water", "jobs with an element replaced", "no fact tells of a replaced element"},
    RuleLeftOut{"earth faults", "jobs where plastic took the place of metal pipe", "no fact tells of replaced pipe"},
    RuleLeftOut{"lukewarm store", "holiday houses", "no fact tells of holiday houses"},
};

std::string_view month_of(std::string_view day) { return day.substr(0, 7); }

/// The day of the week that ends a month; empty where none does.
std::string end_of_month(const AimedSpan& span) {
    for (int back = 6; back >= 0; --back) {
        const auto day = units::day_after(span.last_day, -back).value_or("");
        const auto next = units::day_after(span.last_day, 1 - back).value_or("");
        if (month_of(day) != month_of(next)) return day;
    }
    return "";
}

bool is_among(const AimedSpan& span, Among among, const std::string& handed) {
    switch (among) {
        case Among::Week: return handed >= span.first_day_of_week;
        case Among::Season: return handed >= span.first_day;
        case Among::YearAgo: {
            // 52 weeks, so that each job falls into one week.
            return handed >= units::day_after(span.last_day, -364 - 6).value_or("") && handed <= units::day_after(span.last_day, -364).value_or("");
        }
        case Among::Month:
        case Among::Quarter: break;
    }
    const auto end = end_of_month(span);
    if (end.empty()) return false;
    const auto month = std::string{month_of(end)};
    if (among == Among::Month) return month_of(handed) == month;
    const int number = std::stoi(month.substr(5, 2));
    const auto first = fmt::format("{}-{:02}", month.substr(0, 4), number - 2);
    return number % 3 == 0 && month_of(handed) >= first && month_of(handed) <= month;
}

/// Crew by crew and drawn, so many of each.
Jobs drawn_per_crew(const Lot& lot, const AimedRule& rule, const Jobs& jobs, const auto& wanted_of) {
    std::map<std::string, Jobs> crews;
    for (const auto job : jobs) crews[lot.card(job).crew].push_back(job);
    Jobs taken;
    for (const auto& [crew, own] : crews) {
        const auto order = drawn(own, lot.span().seed, fmt::format("{}/{}/{}", rule.failure, rule.words, crew));
        const auto count = std::min(order.size(), static_cast<std::size_t>(wanted_of(crew, own)));
        taken.insert(taken.end(), order.begin(), order.begin() + static_cast<std::ptrdiff_t>(count));
    }
    return taken;
}

Jobs taken_by(const Lot& lot, const AimedRule& rule) {
    Jobs fit;
    for (const auto job : lot.finished())
        if (is_among(lot.span(), rule.among, lot.handed(job)) && rule.wants(lot, job)) fit.push_back(job);
    switch (rule.take) {
        case Take::Every: return fit;
        case Take::Newest: {
            std::reverse(fit.begin(), fit.end());
            fit.resize(std::min(fit.size(), rule.count));
            return fit;
        }
        case Take::Coldest: {
            std::stable_sort(fit.begin(), fit.end(), [&](std::size_t a, std::size_t b) { return *lot.card(a).visit.coldest_c < *lot.card(b).visit.coldest_c; });
            fit.resize(std::min(fit.size(), rule.count));
            return fit;
        }
        case Take::DrawnPerCrew: return drawn_per_crew(lot, rule, fit, [&](const std::string&, const Jobs&) { return rule.count; });
        case Take::OneInTenPerCrew: break;
    }
    // Of each ten that a crew hands over one, whichever weeks they fall into: the tens are counted on from week to week.
    return drawn_per_crew(lot, rule, fit, [&](const std::string& crew, const Jobs& now) {
        const auto before = static_cast<std::size_t>(std::count_if(lot.finished().begin(), lot.finished().end(), [&](std::size_t job) {
            return lot.card(job).crew == crew && lot.handed(job) < lot.span().first_day_of_week && rule.wants(lot, job);
        }));
        return (before + now.size()) / 10 - before / 10;
    });
}

}  // namespace

std::vector<AimedAt> aimed_visits(const Columns& columns, const AimedSpan& span) {
    const Lot lot{columns, span};
    std::vector<AimedAt> all;
    for (const auto& rule : rules)
        for (const auto job : taken_by(lot, rule)) all.push_back({job, fmt::format("aimed at {}: {}", rule.failure, rule.words)});
    return all;
}

std::span<const RuleLeftOut> rules_left_out() { return left_out; }

}  // namespace wm::audit
