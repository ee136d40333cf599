#include "desk/judged.hpp"

#include <algorithm>

#include "measure/decision.hpp"
#include "units/reading.hpp"

namespace wm::desk {

namespace {

// The readings that stand once `input` and those before it in the same intent are there.
std::vector<checklist::ReadingInput> standing_with(const JobInHand& job, const checklist::Check& check,
                                                   const std::vector<checklist::ReadingInput>& pending,
                                                   const checklist::ReadingInput& input) {
    auto readings = latest_readings(job, check);
    const auto put = [&](const checklist::ReadingInput& reading) {
        const auto same = std::find_if(readings.begin(), readings.end(),
                                       [&](const auto& r) { return r.place == reading.place; });
        if (same == readings.end()) readings.push_back(reading);
        else *same = reading;
    };
    for (const auto& reading : pending) put(reading);
    put(input);
    return readings;
}

}  // namespace

namespace {

constexpr std::string_view in_doubt = "instrument in doubt: ";

}  // namespace

bool is_set_aside(const record::Reading& reading) {
    return !reading.because.empty() && reading.because.back().starts_with(in_doubt);
}

std::string set_aside_because(const std::string& instrument, const std::string& from) {
    return std::string{in_doubt} + instrument + " from " + from;
}

std::string limit_text(const std::optional<units::Amount>& amount, const std::optional<units::Unit>& unit) {
    if (!amount) return "";
    return units::print_short(unit ? amount->in(*unit) : amount->si, 9);
}

Result<PlaceReading> judge_place(Assessment& assessment, const checklist::Check& check,
                                 checklist::ReadingInput input) {
    auto judged = checklist::judge_reading(check, input, assessment.context());
    if (!judged) return tl::unexpected(judged.error());
    return PlaceReading{std::move(input), std::move(*judged)};
}

record::Judged recorded(Assessment& assessment, const checklist::Check& check, const PlaceReading& reading,
                        const std::vector<checklist::ReadingInput>& pending) {
    const auto& judged = reading.judged;
    const auto& limits = judged.limits;
    const auto readings = standing_with(assessment.job(), check, pending, reading.input);
    const auto whole = checklist::judge_whole(check, readings, assessment.context());

    record::Judged kept;
    kept.place_outcome = judged.outcome;
    kept.place_why = judged.why;
    kept.outcome = whole ? whole->outcome : judged.outcome;
    kept.why = whole ? whole->why : judged.why;
    if (check.together && whole) {
        kept.whole_outcome = whole->outcome;
        kept.whole_why = whole->why;
    }
    kept.tolerance = limits.text;
    kept.low = limit_text(limits.low, limits.unit);
    kept.high = limit_text(limits.high, limits.unit);
    kept.accept_low = limit_text(limits.accept_low, limits.unit);
    kept.accept_high = limit_text(limits.accept_high, limits.unit);
    if (judged.uncertainty) kept.uncertainty = units::print_short(*judged.uncertainty, 6);
    if (limits.unit) kept.unit = limits.unit->symbol;
    kept.rule = measure::in_words(limits.rule);
    if (judged.probability) kept.probability = units::print_short(*judged.probability, 4);
    // Parts that nobody had to answer count once they are answered.
    kept.places_needed = checklist::needed_places(check, assessment.context(), readings).places;
    for (const auto& r : readings)
        if (std::find(kept.places_needed.begin(), kept.places_needed.end(), r.place) == kept.places_needed.end())
            kept.places_needed.push_back(r.place);
    kept.checklist_hash = assessment.job().state().opened ? assessment.job().state().opened->checklist_hash : "";
    kept.engine = engine_version;
    return kept;
}

}  // namespace wm::desk
