// The judgement of a check.
#include "checklist/judge.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <utility>

#include "checklist/bounds.hpp"
#include "checklist/evaluate.hpp"
#include "checklist/judge_all.hpp"
#include "checklist/judge_answer.hpp"
#include "checklist/judge_number.hpp"
#include "checklist/judge_words.hpp"
#include "checklist/readings.hpp"
#include "checklist/types.hpp"
#include "checklist/words.hpp"

namespace wm::checklist {
namespace {

constexpr int most_places = 500;

tl::expected<int, Missing> place_count(const Expression& count, const Context& context) {
    const Given given{context, {}, nullptr};
    const auto number = amount_of(count, count.root(), given);
    if (!number) return tl::unexpected(number.error());
    return static_cast<int>(std::lround(std::clamp(number->si, 0.0, double{most_places})));
}

// Places by number: the expression gives how many.
NeededPlaces places_by_count(const Expression& count, const Context& context) {
    NeededPlaces needed;
    const auto n = place_count(count, context);
    if (!n) {
        needed.missing = n.error();
        return needed;
    }
    for (int i = 1; i <= *n; ++i) needed.places.push_back(fmt::format("{}", i));
    return needed;
}

NeededPlaces places_of(const Check& check, const Context& context) {
    if (check.places_from) return places_by_count(*check.places_from, context);
    return {check.places, {}};
}

// Asked of each reading, so without the list of all places.
bool is_place_of(const Check& check, std::string_view place, const Context& context) {
    if (!check.places_from)
        return std::find(check.places.begin(), check.places.end(), place) != check.places.end();
    const auto count = place_count(*check.places_from, context);
    if (!count) return true;
    int n = 0;
    const char* end = place.data() + place.size();
    const auto read = std::from_chars(place.data(), end, n);
    const bool is_number = read.ec == std::errc{} && read.ptr == end && place == fmt::format("{}", n);
    return is_number && n >= 1 && n <= *count;
}

Problem no_such_place(const Check& check, std::string_view place, const Context& context) {
    auto names = places_of(check, context).places;
    for (const auto& part : check.parts) names.push_back(part.name);
    const auto near = nearest(place, names);
    constexpr std::size_t most_listed = 16;
    const bool few = !names.empty() && names.size() <= most_listed;
    return {place.empty() ? fmt::format("{} is read at several places, and no place was named.",
                                        check.id.text)
                          : fmt::format("{} has no place \"{}\".", check.id.text, place),
            check.id.text,
            near  ? fmt::format("Did you mean \"{}\"?", *near)
            : few ? fmt::format("Its places are {}.", listed(names))
                  : "Enter the check without naming a place.",
            ProblemKind::Unreadable};
}

// The place of a positions check, a part, or the main answer.
std::optional<Problem> fault_of_place(const Check& check, std::string_view place,
                                      const Context& context) {
    if (!place.empty() && check.part_named(place) != nullptr) return std::nullopt;
    const bool fits =
        check.kind == Kind::Positions ? is_place_of(check, place, context) : place.empty();
    if (fits) return std::nullopt;
    return no_such_place(check, place, context);
}

Applicability answered(const Expression& condition, const Given& given) {
    const auto holds = is_true(condition, condition.root(), given);
    Applicability result;
    if (!holds) {
        result.answer = Applies::Unknown;
        result.missing = holds.error();
    } else {
        result.answer = *holds ? Applies::Yes : Applies::No;
    }
    return result;
}

}  // namespace

Applicability applies(const Check& check, const Context& context) {
    if (!check.applies) return {};
    auto result = answered(*check.applies, {context, {}, nullptr});
    result.condition = condition_in_words(*check.applies, context.facts);
    return result;
}

Applicability part_applies(const Check& check, const Part& part, const Context& context,
                           const std::vector<ReadingInput>& latest) {
    if (!part.applies) return {};
    Given given{context, {}, nullptr};
    const auto main = std::find_if(latest.begin(), latest.end(), [](const auto& r) { return r.place.empty(); });
    if (main != latest.end())
        if (const auto answer = read_answer(check, "", main->text))
            if (auto value = value_of(*answer)) given.names.insert_or_assign(std::string{main_answer}, *std::move(value));
    const auto names = part.applies->names();
    const bool hangs_on_answer = std::find(names.begin(), names.end(), main_answer) != names.end();
    if (hangs_on_answer && given.names.empty()) return {.answer = Applies::Unknown, .condition = {}, .missing = {}};
    return answered(*part.applies, given);
}

NeededPlaces needed_places(const Check& check, const Context& context, const std::vector<ReadingInput>& latest) {
    NeededPlaces needed;
    if (check.kind == Kind::Positions)
        needed = places_of(check, context);
    else if (check.kind != Kind::Computed)
        needed.places.emplace_back();
    for (const auto& part : check.parts) {
        if (!part.required) continue;
        const auto asked = part_applies(check, part, context, latest);
        if (asked.answer == Applies::Yes) needed.places.push_back(part.name);
        gather(needed.missing, asked.missing);
    }
    return needed;
}

Limits limits_for(const Check& check, std::string_view place, const Context& context,
                  const std::optional<InstrumentInUse>& instrument) {
    const Given given{context, {}, nullptr};
    const auto* part = place.empty() ? nullptr : check.part_named(place);
    if (part != nullptr) {
        if (part->kind == Kind::Quantity)
            return limits_of(number_case(check, *part), given, instrument);
        return limits_in_words(check, part, context);
    }
    if (check.kind == Kind::Computed) return judge_computed(check, context).limits;
    if (!check.is_numeric()) return limits_in_words(check, nullptr, context);
    auto of = number_case(check);
    if (of.tolerance == nullptr && check.together) of.tolerance = &*check.together;
    return limits_of(of, given, instrument);
}

std::optional<Problem> why_unreadable(const Check& check, const ReadingInput& reading,
                                      const Context& context) {
    if (auto problem = fault_of_place(check, reading.place, context)) return problem;
    const auto answer = read_answer(check, reading.place, reading.text);
    return answer ? std::nullopt : std::optional{answer.error()};
}

Result<Judged> judge_reading(const Check& check, const ReadingInput& reading,
                             const Context& context) {
    if (auto problem = fault_of_place(check, reading.place, context))
        return refused(*std::move(problem));
    const auto answer = read_answer(check, reading.place, reading.text);
    if (!answer) return tl::unexpected(answer.error());
    const Given given{context, {}, nullptr};
    return judge_answer(check, reading, *answer, given);
}

Result<Judged> judge_whole(const Check& check, const std::vector<ReadingInput>& latest,
                           const Context& context) {
    const auto applicability = applies(check, context);
    if (applicability.answer == Applies::No) {
        Judged judged;
        judged.outcome = Outcome::NotApplicable;
        judged.why = fmt::format("It applies only if {}.", applicability.condition);
        return judged;
    }
    if (check.kind == Kind::Computed) {
        auto judged = judge_computed(check, context);
        if (applicability.answer == Applies::Unknown) leave_open(judged, applicability.missing);
        return judged;
    }
    auto judged = judge_all(check, latest, context, needed_places(check, context, latest));
    if (judged && applicability.answer == Applies::Unknown) {
        Judged open;
        leave_open(open, applicability.missing);
        open.limits = judged->limits;
        open.measured = judged->measured;
        return worse_of(*std::move(judged), std::move(open));
    }
    return judged;
}

std::optional<ComputedRule> computed_by_rule(const Check& check) {
    return check.rule;
}

}  // namespace wm::checklist
