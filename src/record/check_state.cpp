// What follows from all that was said of one check; the rest of state.hpp.
#include <fmt/format.h>

#include <algorithm>

#include "record/state.hpp"

namespace wm::record {
namespace {

using measure::Outcome;
using Past = std::map<std::string, std::int64_t>;

bool had_seen(const Past& past, const Origin& origin) {
    const auto seen = past.find(origin.device);
    return seen != past.end() && origin.seq <= seen->second;
}

bool did_not_conform(const Judged& judged) {
    return judged.place_outcome == Outcome::DoesNotConform ||
           judged.whole_outcome == Outcome::DoesNotConform;
}

void rejudge(CheckState& check, const std::map<std::string, std::string>& undone) {
    for (Reading& reading : check.readings) {
        reading.judgements = {reading.taken.judged};
        reading.because.clear();
        const auto undo = undone.find(reading.origin.entry);
        reading.undone_by = undo == undone.end() ? std::nullopt : std::optional{undo->second};
    }
    for (const auto& [origin, rejudged] : check.rejudgements) {
        if (undone.contains(origin.entry)) continue;
        for (Reading& reading : check.readings) {
            if (reading.origin.entry != rejudged.reading) continue;
            reading.judgements.push_back(rejudged.judged);
            reading.because.push_back(rejudged.because);
        }
    }
}

/// Per place, the readings that no later one of a writer who knew them replaced. More than one is
/// a conflict. Works in any order of the readings, because it asks who had seen what.
std::map<std::string, std::vector<const Reading*>> standing(const CheckState& check) {
    std::map<std::string, std::vector<const Reading*>> places;
    for (const Reading& reading : check.readings) {
        if (reading.undone_by) continue;
        auto& candidates = places[reading.taken.place];
        const bool replaced = std::any_of(
            candidates.begin(), candidates.end(),
            [&](const Reading* other) { return had_seen(other->past, reading.origin); });
        if (replaced) continue;
        std::erase_if(candidates,
                      [&](const Reading* other) { return had_seen(reading.past, other->origin); });
        candidates.push_back(&reading);
    }
    return places;
}

void decide(std::map<std::string, std::vector<const Reading*>>& places, const CheckState& check,
            const std::map<std::string, std::string>& undone) {
    for (const DecisionState& decision : check.decisions) {
        if (undone.contains(decision.origin.entry)) continue;
        auto& candidates = places[decision.resolved.place];
        const bool keeps_one =
            std::any_of(candidates.begin(), candidates.end(), [&](const Reading* candidate) {
                return candidate->origin.entry == decision.resolved.keep;
            });
        if (!keeps_one) continue;
        std::erase_if(candidates, [&](const Reading* candidate) {
            return candidate->origin.entry != decision.resolved.keep &&
                   had_seen(decision.past, candidate->origin);
        });
    }
    std::erase_if(places, [](const auto& place) { return place.second.empty(); });
}

std::string place_in_words(const std::string& place) {
    return place.empty() ? std::string{"this check"} : fmt::format("\"{}\"", place);
}

/// One thing the outcome is the worst of.
struct Part {
    Outcome outcome;
    std::string why;
};

std::vector<Part> parts_of(const CheckState& check, const Reading& newest) {
    std::vector<Part> parts;
    std::vector<std::string> needed = newest.judged().places_needed;
    if (needed.empty()) needed.emplace_back();
    std::vector<std::string> missing;
    for (const std::string& place : needed) {
        if (!check.latest.contains(place)) missing.push_back(place_in_words(place));
    }
    if (!missing.empty()) {
        parts.push_back(
            {Outcome::Open, fmt::format("No reading yet for {}.", fmt::join(missing, ", "))});
    }
    for (const auto& [place, hash] : check.latest) {
        const Judged& judged = check.find(hash)->judged();
        parts.push_back(
            {judged.place_outcome, judged.place_why.empty() ? judged.why : judged.place_why});
    }
    if (const Judged& judged = newest.judged(); judged.whole_outcome) {
        parts.push_back(
            {*judged.whole_outcome, judged.whole_why.empty() ? judged.why : judged.whole_why});
    }
    return parts;
}

void find_failures(CheckState& check) {
    check.failures.clear();
    for (const Reading& reading : check.readings) {
        if (std::none_of(reading.judgements.begin(), reading.judgements.end(), did_not_conform))
            continue;
        Failure failure{reading.origin.entry, reading.taken.place, {}, false};
        failure.withdrawn = reading.undone_by.has_value() || !did_not_conform(reading.judged());
        for (const Reading& later : check.readings) {
            if (!later.correction || later.undone_by || later.origin.order <= reading.origin.order)
                continue;
            if (later.correction->corrects == reading.origin.entry ||
                later.taken.place == reading.taken.place) {
                failure.corrected_by.push_back(later.origin.entry);
            }
        }
        check.failures.push_back(std::move(failure));
    }
}

/// The last of these that counts, unless a reading that counts came after it.
template <class Told>
std::optional<Told> last_standing(const std::vector<Told>& all, std::size_t last_reading,
                                  const std::map<std::string, std::string>& undone) {
    for (auto told = all.rbegin(); told != all.rend(); ++told) {
        if (undone.contains(told->origin.entry)) continue;
        if (told->origin.order < last_reading) return std::nullopt;
        return *told;
    }
    return std::nullopt;
}

void judge(CheckState& check, const Reading* newest) {
    check.read_outcome = Outcome::Open;
    check.why = "No reading yet.";
    if (newest != nullptr) {
        const std::vector<Part> parts = parts_of(check, *newest);
        const Part* worst = &parts.front();
        for (const Part& part : parts) {
            if (measure::worse(part.outcome, worst->outcome) != worst->outcome) worst = &part;
        }
        check.read_outcome = worst->outcome;
        check.why = worst->why;
    }
    check.outcome = check.read_outcome;
    if (check.deferral && check.read_outcome != Outcome::Conforms) {
        check.outcome = Outcome::Deferred;
        check.why = check.deferral->deferred.until.empty()
                        ? std::string{"Deferred without a date."}
                        : fmt::format("Deferred until {}.", check.deferral->deferred.until);
    }
    if (!check.conflicts.empty()) {
        std::vector<std::string> places;
        for (const Conflict& conflict : check.conflicts) {
            places.push_back(place_in_words(conflict.place));
            // Until a person decides, the worse of the readings counts; signing is refused anyway.
            for (const std::string& reading : conflict.readings)
                check.outcome = measure::worse(check.outcome, check.find(reading)->judged().place_outcome);
        }
        check.why = fmt::format(
            "Two devices recorded {} without having seen each other; a person decides which "
            "stands.",
            fmt::join(places, ", "));
    }
}

}  // namespace

const Reading* CheckState::find(std::string_view hash) const {
    const auto found = std::find_if(readings.begin(), readings.end(),
                                    [&](const Reading& r) { return r.origin.entry == hash; });
    return found == readings.end() ? nullptr : &*found;
}

const Reading* CheckState::standing_at(std::string_view place) const {
    const auto found = latest.find(std::string{place});
    return found == latest.end() ? nullptr : find(found->second);
}

std::size_t CheckState::failures_without_correction() const {
    return static_cast<std::size_t>(
        std::count_if(failures.begin(), failures.end(),
                      [](const Failure& f) { return !f.withdrawn && f.corrected_by.empty(); }));
}

void derive(CheckState& check, const std::map<std::string, std::string>& undone) {
    rejudge(check, undone);
    auto places = standing(check);
    decide(places, check, undone);
    check.latest.clear();
    check.conflicts.clear();
    const Reading* newest = nullptr;
    for (const auto& [place, candidates] : places) {
        check.latest.emplace(place, candidates.back()->origin.entry);
        if (newest == nullptr || newest->origin.order < candidates.back()->origin.order) {
            newest = candidates.back();
        }
        if (candidates.size() < 2) continue;
        Conflict conflict{place, {}};
        for (const Reading* candidate : candidates)
            conflict.readings.push_back(candidate->origin.entry);
        check.conflicts.push_back(std::move(conflict));
    }
    const std::size_t last_reading = newest == nullptr ? 0 : newest->origin.order;
    check.deferral = last_standing(check.deferrals, last_reading, undone);
    check.concession = last_standing(check.concessions, last_reading, undone);
    find_failures(check);
    judge(check, newest);
}

}  // namespace wm::record
