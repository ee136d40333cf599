// One drawn season, looked at week by week: what of the planted is found when, and what else is said.
#pragma once

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "audit/week.hpp"
#include "demo/drawn_season.hpp"
#include "units/calendar.hpp"

namespace wm::demo::testing {

struct Pattern {
    const char* name;
    const char* kind;     ///< part of a finding's kind; empty = any
    const char* subject;
    const char* check;
    const char* also_kind = "-";     ///< another finding that says the same: its kind and subject
    const char* also_subject = "-";
    bool must_show = true;  ///< in nine seasons of ten
};

// What season_visits plants and a finding can show (invented parameters, no source).
inline constexpr std::array<Pattern, 10> patterns = {{
    {"P1 pipe ends of one crew", "crew and check", "Jorvane Pellish", "ins-ends"},
    {"P2 gauge drifts", "instrument drift", "PG-4", "pressure-limit-set"},
    {"P3 bad valve batch", "batch and check", "relief valve RV-K17", "relief-lever"},
    {"P4 mixing errors", "batch and check", "fluid PGC-0777", "loop-freeze-point", "recent weeks", ""},
    {"P7 tempering, vulnerable homes", "household", "Marrit Osseldane", "outlet-temp", "crew and check", "Marrit Osseldane"},
    {"P5 wrong frost class", "neighbours differ", "Millpond Hollow", ""},
    {"P5 burst leads to the survey", "complaint and survey", "Millpond Hollow", ""},
    // Three homes left bare and six cold weeks make one call in most seasons: two or more are what chance cannot do.
    {"P6 bare cold feed", "complaints and check", "", "frost-cold-feed", "-", "-", false},
    {"P8 written, not measured", "equal readings", "Ilka Trosmere", "anchor-torque"},
    {"P9 deferred and forgotten", "deferrals", "Wend Karradoc", "", "-", "-", false},
}};

struct Trial {
    std::array<std::optional<int>, patterns.size()> found;  ///< week of the season, from 1
    std::optional<int> tops_ageing;                         ///< the forgetful crew leads the ageing list with three jobs
    std::optional<int> traced_to_feed;                      ///< a call is listed with the cold feed that nobody proved
    std::optional<int> first_other;                         ///< first week with a finding nobody planted
    std::vector<std::string> others;                        ///< kind, subject and check of those, once each
};

inline bool shows(const std::string& kind, const std::string& subject, const std::string& check, const Pattern& pattern) {
    const auto is = [&](const char* wanted_kind, const char* wanted_subject) {
        return kind.find(wanted_kind) != std::string::npos && subject == wanted_subject;
    };
    const bool of_haste = std::string{pattern.kind} == "equal readings";
    if (of_haste && (kind == "one photo twice" || kind == "pace") && subject == pattern.subject) return true;
    return (is(pattern.kind, pattern.subject) || is(pattern.also_kind, pattern.also_subject)) &&
           (*pattern.check == '\0' || check == pattern.check);
}

/// What is said in each week, or in every so many weeks up to the last; findings and questions alone.
inline Trial tried(const SeasonPlan& plan, double level, int every = 1) {
    const auto table = drawn_season(plan);
    const auto cards = drawn_cards();
    const auto links = drawn_links();
    Trial trial;
    int week = 1;
    const auto note = [&](const std::string& kind, const std::string& subject, const std::string& check) {
        bool planted = false;
        for (std::size_t i = 0; i < patterns.size() && plan.planted; ++i) {
            if (!shows(kind, subject, check, patterns[i])) continue;
            planted = true;
            if (!trial.found[i]) trial.found[i] = week;
        }
        if (planted) return;
        if (!trial.first_other) trial.first_other = week;
        const auto what = kind + " | " + subject + " | " + check;
        if (std::find(trial.others.begin(), trial.others.end(), what) == trial.others.end()) trial.others.push_back(what);
    };
    for (; week <= plan.weeks; ++week) {
        if ((plan.weeks - week) % every != 0) continue;
        const auto last = units::day_after(plan.first_monday, 7 * week - 1).value_or("");
        audit::FindingRule rule;
        rule.first_day = units::day_after(last, -7 * 26 + 1).value_or("");
        rule.last_day = last;
        rule.level = level;
        rule.links = links;
        for (const auto& finding : audit::findings_of(table, cards, rule)) note(finding.kind, finding.subject, finding.check);
        const audit::ObservationSpan span{.first_day = rule.first_day, .last_day = last,
                                          .first_recent_day = units::day_after(last, -7 * 8 + 1).value_or(""),
                                          .first_day_of_week = units::day_after(last, -6).value_or(""), .links = links};
        const audit::Columns columns{table};
        for (const auto& trace : audit::complaint_traces(columns, links, span.first_day_of_week, last))
            for (const auto& gap : trace.unproved)
                if (gap.check == "frost-cold-feed" && plan.planted && !trial.traced_to_feed) trial.traced_to_feed = week;
        const auto ageing = audit::ageing_of(table, rule.first_day, last);
        if (!trial.tops_ageing && plan.planted && !ageing.empty() && ageing[0].crew == "Wend Karradoc" && ageing[0].jobs.size() >= 3)
            trial.tops_ageing = week;
        for (const auto& asked : audit::observations_of(table, cards, span)) note(asked.kind, asked.subject, asked.check);
    }
    return trial;
}

}  // namespace wm::demo::testing
