// Order and names.
#include "checklist/lint_rules.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "checklist/words.hpp"

namespace wm::checklist {
namespace {

// The n-th stage first, then the order in the file.
std::map<std::string, std::pair<std::size_t, std::size_t>> ranks_of(const Checklist& list) {
    std::map<std::string, std::size_t> stages;
    for (std::size_t i = 0; i < list.stages.size(); ++i) stages.emplace(list.stages[i].id, i);
    std::map<std::string, std::pair<std::size_t, std::size_t>> ranks;
    for (std::size_t i = 0; i < list.checks.size(); ++i) {
        const auto stage = stages.find(list.checks[i].stage);
        ranks.emplace(list.checks[i].id.text,
                      std::pair{stage == stages.end() ? stages.size() : stage->second, i});
    }
    return ranks;
}

void lint_ids(const Linted& linted) {
    std::set<std::string> seen;
    for (const auto& check : linted.list.checks) {
        const auto& id = check.id.text;
        if (!seen.insert(id).second)
            linted.findings.error(place_in(check, "id"),
                                  fmt::format("the id \"{}\" is used twice", id),
                                  "Give each check an id of its own.");
        for (const auto& other : linted.library.checklists) {
            if (other.name == linted.list.name || other.find(check.id) == nullptr) continue;
            linted.findings.error(place_in(check, "id"),
                                  fmt::format("the id \"{}\" is also used in {}", id, other.name),
                                  "Ids are unique over all checklists; choose another.");
        }
    }
}

void lint_stages(const Linted& linted) {
    std::set<std::string> used;
    std::vector<std::string> known;
    for (const auto& stage : linted.list.stages) known.push_back(stage.id);
    for (const auto& check : linted.list.checks) {
        used.insert(check.stage);
        if (std::find(known.begin(), known.end(), check.stage) != known.end()) continue;
        // The sentence lists all stages, so it is not made where nobody reads it.
        if (linted.findings.is_full()) return;
        linted.findings.error(
            place_in(check, "stage"),
            fmt::format("\"{}\" stands in the stage \"{}\", which does not exist", check.id.text,
                        check.stage),
            known.empty() ? "Add a [[stage]]." : fmt::format("The stages are {}.", listed(known)));
    }
    for (const auto& stage : linted.list.stages)
        if (!used.contains(stage.id))
            linted.findings.advise(stage.at, fmt::format("the stage \"{}\" has no check", stage.id),
                                   "Take it out, or give it a check.");
}

void lint_after(const Linted& linted) {
    const auto ranks = ranks_of(linted.list);
    std::vector<std::string> ids;
    for (const auto& [id, rank] : ranks) ids.push_back(id);
    for (const auto& check : linted.list.checks) {
        for (const auto& earlier : check.after) {
            if (linted.findings.is_full()) return;
            const auto found = ranks.find(earlier.text);
            if (found == ranks.end()) {
                const auto near = nearest(earlier.text, ids);
                linted.findings.error(place_in(check, "after"),
                                      fmt::format("\"{}\" waits for \"{}\", which does not exist",
                                                  check.id.text, earlier.text),
                                      near ? fmt::format("Did you mean {}?", *near)
                                           : "Use the id of a hold point of this file.");
                continue;
            }
            if (found->second >= ranks.at(check.id.text))
                linted.findings.error(
                    place_in(check, "after"),
                    fmt::format("\"{}\" waits for \"{}\", which comes later", check.id.text,
                                earlier.text),
                    "Move the hold point before what depends on it, or take it out of after.");
            else if (!linted.list.checks[found->second.second].hold)
                linted.findings.error(place_in(check, "after"),
                                      fmt::format("\"{}\" waits for \"{}\", which is no hold point",
                                                  check.id.text, earlier.text),
                                      "Give that check hold = true, or take it out of after.");
        }
    }
}

void lint_title(const Check& check, Findings& findings) {
    constexpr std::ptrdiff_t longest = 40;
    const auto characters = std::count_if(check.title.begin(), check.title.end(), [](char c) {
        return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
    });
    if (characters > longest)
        findings.error(
            place_in(check, "title"),
            fmt::format("the title of \"{}\" has {} characters", check.id.text, characters),
            fmt::format("Lists have room for {}.", longest));
}

void lint_cautions_of(const Check& check, const Linted& linted) {
    if (check.severity == Severity::Hurts && check.cautions.empty())
        linted.findings.error(
            place_in(check, "severity"),
            fmt::format("\"{}\" can hurt someone and has no caution", check.id.text),
            "Add caution = [\"C-…\"] with the id of a caution.");
    for (const auto& id : check.cautions) {
        if (linted.library.caution_named(id) != nullptr) continue;
        std::vector<std::string> ids;
        for (const auto& caution : linted.library.cautions) ids.push_back(caution.id);
        const auto near = nearest(id, ids);
        linted.findings.error(
            place_in(check, "caution"),
            fmt::format("\"{}\" names the caution \"{}\", which does not exist", check.id.text, id),
            near ? fmt::format("Did you mean {}?", *near)
                 : "Use the id of a caution of cautions.toml.");
    }
}

void lint_sources_of(const Check& check, const Linted& linted) {
    if (check.sources.empty())
        linted.findings.error(
            place_in(check, "source"), fmt::format("\"{}\" names no source", check.id.text),
            "Add source = [\"…\"]; [\"CP\"] stands for common practice, no source.");
    for (const auto& mark : check.sources) {
        if (mark == "CP" || mark == "PH" || linted.library.source_marked(mark) != nullptr) continue;
        linted.findings.error(place_in(check, "source"),
                              fmt::format("\"{}\" names the source \"{}\", which does not exist",
                                          check.id.text, mark),
                              "Use the mark of a [[source]] of instruments.toml, CP or PH.");
    }
}

void lint_instrument(const Linted& linted, const std::string& whose,
                     const std::optional<std::string>& name, const std::optional<units::Unit>& unit,
                     Position at) {
    if (!name) return;
    const auto* type = linted.library.type_named(*name);
    if (type == nullptr) {
        std::vector<std::string> ids;
        for (const auto& known : linted.library.instrument_types) ids.push_back(known.id);
        const auto near = nearest(*name, ids);
        linted.findings.error(
            at, fmt::format("{} names the instrument \"{}\", which does not exist", whose, *name),
            near ? fmt::format("Did you mean \"{}\"?", *near)
                 : "Use the id of an [[instrument_type]] of instruments.toml.");
        return;
    }
    if (!unit || type->unit.dimension == unit->dimension) return;
    linted.findings.error(
        at,
        fmt::format("{} is {}, but a {} measures {}", whose,
                    units::dimension_in_words(unit->dimension, unit->scale), *name,
                    units::dimension_in_words(type->unit.dimension, type->unit.scale)),
        "Choose an instrument for this quantity, or another unit.");
}

void lint_answers(const Check& check, Findings& findings) {
    for (const auto& word : check.refuse)
        if (std::find(check.accept.begin(), check.accept.end(), word) != check.accept.end())
            findings.error(
                place_in(check, "refuse"),
                fmt::format("\"{}\" both accepts and refuses \"{}\"", check.id.text, word),
                "Keep the answer in one of the two lists.");
    for (const auto& [word, condition] : check.accept_when)
        if (std::find(check.accept.begin(), check.accept.end(), word) == check.accept.end())
            findings.error(
                condition.at(),
                fmt::format("\"{}\" has a condition for \"{}\", which it does not accept",
                            check.id.text, word),
                fmt::format("The accepted answers are {}.", quoted(check.accept)));
    std::set<std::string> names;
    for (const auto& part : check.parts)
        if (!names.insert(part.name).second)
            findings.error(
                part.at,
                fmt::format("\"{}\" has two parts called \"{}\"", check.id.text, part.name),
                "Give each part a name of its own.");
}

void lint_duties(const Check& check, Findings& findings) {
    if (check.severity == Severity::Hurts && check.concession_when)
        findings.error(
            place_in(check, "concession_when"),
            fmt::format("\"{}\" can hurt someone and allows a concession", check.id.text),
            "No concession is ever given where someone can be hurt; take it out.");
    if (check.restricts && check.defer_reasons.empty())
        findings.error(
            place_in(check, "restricts"),
            fmt::format("\"{}\" restricts the handover when deferred, but may not be deferred",
                        check.id.text),
            "Add defer_reasons, or take restricts out.");
    if (!check.defer_reasons.empty() && !check.defer_days)
        findings.error(place_in(check, "defer_reasons"),
                       fmt::format("\"{}\" may be deferred without end", check.id.text),
                       "Add defer_days.");
    if (check.is_numeric() && !check.plausible)
        findings.error(
            place_in(check, "unit"),
            fmt::format("\"{}\" reads numbers and does not say what is plausible", check.id.text),
            "Add plausible = [lowest, highest], so that slips are noticed.");
    if (!check.licence.empty() && check.licence != "electrician" && check.licence != "plumber")
        findings.error(
            place_in(check, "licence"),
            fmt::format("\"{}\" asks for the licence \"{}\"", check.id.text, check.licence),
            "Use electrician or plumber.");
    if (check.kind == Kind::Signature && check.signer != "crew" && check.signer != "customer")
        findings.error(
            place_in(check, "who"),
            fmt::format("\"{}\" wants the signature of \"{}\"", check.id.text, check.signer),
            "Use crew or customer.");
}

}  // namespace

Position place_in(const Check& check, std::string_view key) {
    const auto found = check.key_at.find(std::string{key});
    return found == check.key_at.end() ? check.at : found->second;
}

void lint_order(const Linted& linted) {
    lint_ids(linted);
    lint_stages(linted);
    lint_after(linted);
}

void lint_names(const Linted& linted) {
    for (const auto& check : linted.list.checks) {
        if (linted.findings.is_full()) return;
        lint_title(check, linted.findings);
        lint_cautions_of(check, linted);
        lint_sources_of(check, linted);
        const auto unit = check.is_numeric() ? check.judged_unit() : std::nullopt;
        lint_instrument(linted, '"' + check.id.text + '"', check.instrument, unit,
                        place_in(check, "instrument"));
        for (const auto& part : check.parts)
            lint_instrument(linted, fmt::format("part \"{}\" of \"{}\"", part.name, check.id.text),
                            part.instrument, part.kind == Kind::Quantity ? part.unit : std::nullopt,
                            part.at);
        lint_answers(check, linted.findings);
        lint_duties(check, linted.findings);
    }
}

}  // namespace wm::checklist
