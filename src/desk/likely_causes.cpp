#include "desk/likely_causes.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "units/reading.hpp"

namespace wm::desk {

namespace {

using checklist::FailureMode;
using checklist::Weather;

// Under a clear sky a collector freezes in air that is still some degrees above 0 °C (from memory).
constexpr double frost_below_c = 2.0;
constexpr double no_frost_above_c = 6.0;
// Common practice, no source.
constexpr double heat_above_c = 28.0;
constexpr double no_heat_below_c = 15.0;

std::string in_words(double factor) { return units::print_short(factor, 3); }

std::string titled(const CatchView& row) { return row.title.empty() ? row.check : row.title; }

/// -1 winter, +1 summer, 0 neither or unknown.
int season_of(const ComplaintSigns& signs) {
    if (signs.month == 0) return 0;
    const int month = signs.southern ? (signs.month + 5) % 12 + 1 : signs.month;
    if (month == 12 || month <= 2) return -1;
    return month >= 6 && month <= 8 ? 1 : 0;
}

/// The circumstance that the weather or the season makes of a failure; empty = none.
std::string_view weather_for(Weather weather, const ComplaintSigns& signs) {
    const int season = season_of(signs);
    switch (weather) {
        case Weather::Frost:
            if (signs.air_c) return *signs.air_c <= frost_below_c ? "weather fits" : *signs.air_c >= no_frost_above_c ? "weather against" : "";
            return season < 0 ? "season fits" : season > 0 ? "season against" : "";
        case Weather::Heat:
            if (signs.air_c) return *signs.air_c >= heat_above_c ? "weather fits" : *signs.air_c <= no_heat_below_c ? "weather against" : "";
            return season > 0 ? "season fits" : season < 0 ? "season against" : "";
        case Weather::Sun: return season > 0 ? "season fits" : "";
        // Rain and gales come in any season, and a temperature says nothing of them.
        case Weather::Rain:
        case Weather::Gale:
        case Weather::Any: break;
    }
    return "";
}

class Weigher {
public:
    Weigher(const checklist::FailureList& list, const checklist::Library& library, const HouseRecord& record, const ComplaintSigns& signs)
        : list_{list}, library_{library}, record_{record}, signs_{signs} {}

    [[nodiscard]] LikelyCauseView weighed(const FailureMode& failure) const {
        LikelyCauseView view{.failure = failure.id, .mode = failure.mode, .looks_like = failure.looks_like, .cause = failure.cause,
                             .share = failure.often, .reasons = {}, .checks = {}, .look_also = failure.look_also};
        view.reasons.push_back(failure.often == 1.0 ? fmt::format("among the rarest of the list ({})", sources(failure.sources))
                                                    : fmt::format("met {} times where the rarest of the list is met once ({})",
                                                                  in_words(failure.often), sources(failure.sources)));
        if (const auto before = signs_.closed_before.find(failure.id); before != signs_.closed_before.end() && before->second > 0) {
            view.share += before->second;
            view.reasons.push_back(fmt::format("+ {}: so many complaints like it came down to this before (our own record)", before->second));
        }
        add_checks(failure, view);
        if (const auto weather = weather_for(failure.weather, signs_); !weather.empty()) multiply(view, weather, "");
        if (failure.weather == Weather::Frost && signs_.taken_for_frost_free && signs_.air_c && *signs_.air_c <= 0.0)
            multiply(view, "site against record", "");
        return view;
    }

private:
    [[nodiscard]] const checklist::LikelihoodWeight& weight(std::string_view when) const { return list_.weights.find(when)->second; }
    [[nodiscard]] std::string sources(const std::vector<std::string>& marks) const {
        std::vector<std::string> words;
        for (const auto& mark : marks) words.push_back(checklist::source_in_words(library_, mark));
        return fmt::format("{}", fmt::join(words, "; "));
    }
    void multiply(LikelyCauseView& view, std::string_view when, const std::string& who) const {
        const auto& by = weight(when);
        view.share *= by.factor;
        view.reasons.push_back(fmt::format("× {}: {}{} ({})", in_words(by.factor), who.empty() ? "" : who + " ", by.words, sources(by.sources)));
    }
    // One of each side counts: two that were both left out, or both in order, are no further evidence.
    void add_checks(const FailureMode& failure, LikelyCauseView& view) const {
        for (const auto& id : failure.checks) {
            const auto found = record_.find(id);
            if (found != record_.end()) view.checks.push_back(found->second);
            else view.checks.push_back({.check = id, .title = check_title(library_, id), .job = "", .state = "not asked", .words = check_title(library_, id) + ": not asked at this house"});
        }
        std::stable_sort(view.checks.begin(), view.checks.end(), [&](const CatchView& a, const CatchView& b) { return factor(a) > factor(b); });
        const auto& most = view.checks.front();
        if (factor(most) > 1.0) multiply(view, most.state, fmt::format("\"{}\" in {}", titled(most), most.job));
        const auto right = std::find_if(view.checks.begin(), view.checks.end(), [](const CatchView& row) { return row.state == "conforms"; });
        if (right != view.checks.end()) multiply(view, "conforms", fmt::format("\"{}\" in {}", titled(*right), right->job));
    }
    [[nodiscard]] double factor(const CatchView& row) const {
        const auto found = list_.weights.find(row.state);
        return found == list_.weights.end() ? 1.0 : found->second.factor;
    }

    const checklist::FailureList& list_;
    const checklist::Library& library_;
    const HouseRecord& record_;
    const ComplaintSigns& signs_;
};

}  // namespace

std::vector<LikelyCauseView> likely_causes(const checklist::FailureList& list, const checklist::Library& library, const HouseRecord& record,
                                           const ComplaintSigns& signs, const CanHave& can_have) {
    const Weigher weigher{list, library, record, signs};
    std::vector<LikelyCauseView> causes;
    double sum = 0.0;
    for (const auto& failure : list.failures) {
        if (std::find(failure.symptoms.begin(), failure.symptoms.end(), signs.symptom) == failure.symptoms.end()) continue;
        if (!can_have(failure)) continue;
        causes.push_back(weigher.weighed(failure));
        sum += causes.back().share;
    }
    for (auto& cause : causes) cause.share /= sum;
    std::stable_sort(causes.begin(), causes.end(), [](const LikelyCauseView& a, const LikelyCauseView& b) { return a.share > b.share; });
    return causes;
}

std::vector<CatchView> checks_to_repeat(const std::vector<LikelyCauseView>& causes) {
    std::vector<CatchView> all;
    for (const auto& cause : causes)
        for (const auto& row : cause.checks)
            if (std::none_of(all.begin(), all.end(), [&](const CatchView& known) { return known.check == row.check; })) all.push_back(row);
    return all;
}

}  // namespace wm::desk
