#include "desk/ticks.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "desk/pick_list.hpp"
#include "digest/text.hpp"
#include "units/reading.hpp"

namespace wm::desk {

namespace {

constexpr std::string_view table = "part.";
constexpr std::string_view words_of = ".words";
constexpr std::string_view taken_back = "open";
constexpr double dust = 1e-9;

std::string_view trimmed(std::string_view text) {
    while (text.starts_with(' ')) text.remove_prefix(1);
    while (text.ends_with(' ')) text.remove_suffix(1);
    return text;
}

/// "changed: a shorter one" into its word and what stands behind the mark.
std::pair<std::string_view, std::string_view> parted(std::string_view text, char mark) {
    const auto at = text.find(mark);
    if (at == std::string_view::npos) return {trimmed(text), {}};
    return {trimmed(text.substr(0, at)), trimmed(text.substr(at + 1))};
}

std::optional<Ticked> ticked_named(std::string_view word) {
    for (const auto said : {Ticked::There, Ticked::Missing, Ticked::Changed})
        if (in_words(said) == word) return said;
    return std::nullopt;
}

/// In the unit of the part. One piece is written as people say it.
Result<double> read_count(std::string_view text, const std::string& unit, std::string_view where) {
    const std::string plain = text == "1 piece" ? "1 pieces" : std::string{text};
    const auto read = units::read_amount(plain, units::unit_named(unit).value_or(units::Unit{}), where);
    if (!read) return tl::unexpected(read.error());
    return read->amount().in(units::unit_named(unit).value_or(units::Unit{}));
}

tl::unexpected<Problem> unreadable(std::string what, std::string where, std::string what_to_do) {
    return refused({std::move(what), std::move(where), std::move(what_to_do), ProblemKind::Unreadable});
}

}  // namespace

std::string_view in_words(TickPlace place) { return place == TickPlace::Store ? "store" : "van"; }

std::optional<TickPlace> tick_place_named(std::string_view word) {
    for (const auto place : {TickPlace::Store, TickPlace::Van})
        if (in_words(place) == word) return place;
    return std::nullopt;
}

std::string_view in_words(Ticked said) {
    switch (said) {
        case Ticked::There: return "there";
        case Ticked::Missing: return "missing";
        case Ticked::Changed: return "changed";
    }
    return "there";
}

bool is_tick(std::string_view key) { return key.starts_with(table); }

std::string tick_key(std::string_view part, TickPlace place) { return fmt::format("{}{}.{}", table, part, in_words(place)); }

std::optional<Tick> standing_tick(const record::JobState& job, std::string_view part, TickPlace place) {
    const std::string key = tick_key(part, place);
    const auto fact = job.facts.find(key);
    if (fact == job.facts.end()) return std::nullopt;
    const auto& history = fact->second.history;
    const auto last = std::find_if(history.rbegin(), history.rend(), [&](const auto& told) { return !job.is_undone(told.first); });
    if (last == history.rend()) return std::nullopt;
    const std::string text = record::shown(last->second);
    const auto [word, counted] = parted(text, ',');
    const auto said = ticked_named(word);
    if (!said) return std::nullopt;
    Tick tick{.said = *said, .counted = std::string{counted}, .words = {}, .at = last->first.time};
    // Words belong to the tick they were said with, not to a later one without words.
    if (const auto words = job.facts.find(key + std::string{words_of}); words != job.facts.end())
        for (const auto& [origin, told] : words->second.history)
            if (origin.entry == last->first.entry) tick.words = record::shown(told);
    return tick;
}

const Tick* last_tick(const PickRow& row) {
    if (!row.store || !row.van) return row.van ? &*row.van : row.store ? &*row.store : nullptr;
    return row.store->at > row.van->at ? &*row.store : &*row.van;
}

Result<std::vector<record::FactStated>> stated_tick(const PickListView& list, const std::string& key, std::string_view text) {
    const std::string where = fmt::format("job {}, {}", list.job, key);
    const auto dot = key.rfind('.');
    const std::string part = dot < table.size() ? std::string{} : key.substr(table.size(), dot - table.size());
    if (!tick_place_named(std::string_view{key}.substr(dot + 1)))
        return unreadable("Parts are ticked at the store and at the van.", where, "Write part.pipe-loop.store or part.pipe-loop.van.");
    const auto row = std::find_if(list.rows.begin(), list.rows.end(), [&](const PickRow& each) { return each.part == part; });
    if (row == list.rows.end())
        return unreadable(fmt::format("\"{}\" is no part of this house.", part), where, "Use one that witnessmark parts lists for this job.");
    // Words may hold commas of their own, so they are cut off first.
    const auto [before, words] = parted(text, ':');
    const auto [word, given] = parted(before, ',');
    const auto said = ticked_named(word);
    if (!said && word != taken_back)
        return unreadable(fmt::format("\"{}\" says nothing of a part.", text), where,
                          "Write there, there with an amount behind a comma, missing, changed: and what came instead, or open.");
    if (said == Ticked::Changed && words.empty())
        return unreadable("It was not said what came instead.", where, "Write it behind a colon, as changed: pipe of 28 mm.");
    if (!given.empty() && said != Ticked::There)
        return unreadable(fmt::format("An amount stands behind \"{}\".", word), where, "Only what is there is counted.");
    std::string counted{said == Ticked::There ? given : std::string_view{}};
    if (!counted.empty()) {
        const auto count = read_count(counted, row->unit, where);
        if (!count) return tl::unexpected(count.error());
        if (*count < 0.0) return unreadable("Less than nothing was counted.", where, "Count again.");
        // A bare number would be read in another unit once the list asks for another.
        if (units::read_number(counted)) counted += " " + row->unit;
    } else if (said == Ticked::There) {
        counted = row->amount;
    }
    std::vector<record::FactStated> facts{{key, counted.empty() ? std::string{word} : fmt::format("{}, {}", word, counted)}};
    if (!words.empty())
        facts.push_back({key + std::string{words_of}, record::Personal::said(digest::composed(std::string{words}))});
    return facts;
}

bool is_short(const PickRow& row, const Tick& tick) {
    if (tick.said != Ticked::There || tick.counted.empty() || !row.least) return false;
    const auto count = read_count(tick.counted, row.unit, row.part);
    return count && *count < *row.least * (1.0 - dust);
}

}  // namespace wm::desk
