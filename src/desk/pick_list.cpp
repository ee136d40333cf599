#include "desk/pick_list.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "checklist/facts.hpp"
#include "checklist/parts_list.hpp"
#include "desk/actions.hpp"
#include "desk/desk.hpp"
#include "desk/facts_context.hpp"
#include "desk/view_parts.hpp"

namespace wm::desk {

namespace {

std::vector<std::string> in_words(const checklist::Missing& missing) {
    std::vector<std::string> words;
    for (const auto& key : missing.facts) {
        const auto* spec = checklist::fact_named(key);
        words.push_back(spec == nullptr ? key : fmt::format("{} ({})", spec->meaning, key));
    }
    for (const auto& check : missing.checks) words.push_back("the check " + check);
    if (!missing.trouble.empty()) words.push_back(missing.trouble);
    return words;
}

std::vector<PickInstrument> instruments_for(const JobInHand& hand, const checklist::Library& library) {
    std::vector<PickInstrument> wanted;
    const auto* list = library.checklist_named("commissioning");
    if (list == nullptr) return wanted;
    const auto context = facts_context(hand);
    const auto want = [&](const std::optional<std::string>& type) {
        if (!type || std::any_of(wanted.begin(), wanted.end(), [&](const PickInstrument& each) { return each.type == *type; })) return;
        PickInstrument row{*type, {}};
        for (const auto& instrument : hand.instruments()) {
            const auto& card = instrument.card;
            if (card.type != *type) continue;
            const auto due = card.calibration_due.value_or("");
            const auto until = due.empty() ? std::string{} : ", calibrated until " + due;
            row.registered.push_back(card.id + until + (!due.empty() && due < hand.today ? ", OUT OF DATE" : ""));
        }
        wanted.push_back(std::move(row));
    };
    for (const auto& check : list->checks) {
        if (!(check.core || check.hold) || checklist::applies(check, context).answer == checklist::Applies::No) continue;
        want(check.instrument);
        for (const auto& part : check.parts) want(part.instrument);
    }
    return wanted;
}

void add_ticks(PickRow& row, const JobInHand& hand) {
    for (const auto* at = &hand; at != nullptr; at = at->earlier.get()) {
        if (!row.store) row.store = standing_tick(at->state(), row.part, TickPlace::Store);
        if (!row.van) row.van = standing_tick(at->state(), row.part, TickPlace::Van);
    }
}

void add_doubts(PickRow& row) {
    const auto* tick = last_tick(row);
    if (tick == nullptr) return;
    const auto where = row.van && tick == &*row.van ? "van" : "store";
    const std::string words = tick->words.empty() || tick->words.ends_with('.') ? tick->words : tick->words + ".";
    if (tick->said == Ticked::Missing)
        row.in_doubt.push_back(fmt::format("{}: missing at the {}.{} Is it here now, or what is fitted in its place?", row.name, where,
                                           words.empty() ? "" : " " + words));
    if (tick->said == Ticked::Changed)
        row.in_doubt.push_back(fmt::format("{}: something else came, as was said at the {}: {} Does it fit here?", row.name, where, words));
    if (is_short(row, *tick))
        row.in_doubt.push_back(fmt::format("{}: {} counted at the {}, {} needed. Did the rest come?", row.name, tick->counted, where, row.amount));
}

/// A hold that came after the part was loaded counts as well.
Result<void> add_holds(Desk& desk, const JobInHand& hand, std::vector<PickRow>& rows) {
    const auto batch_of = [&](const PickRow& row) { return row.batch.empty() ? std::string{} : fact_text(hand.state(), row.batch); };
    if (std::all_of(rows.begin(), rows.end(), [&](const PickRow& row) { return batch_of(row).empty(); })) return {};
    const auto office = office_at(desk);
    if (!office) return tl::unexpected(office.error());
    for (auto& row : rows) {
        const auto batch = batch_of(row);
        if (!batch.empty() && std::any_of(office->doubted_batches.begin(), office->doubted_batches.end(),
                                          [&](const auto& doubt) { return doubt.second.batch == batch; }))
            row.in_doubt.push_back(fmt::format("{}: batch {} is on hold. Was it swapped?", row.name, batch));
    }
    return {};
}

}  // namespace

Result<PickListView> pick_list(Desk& desk, const std::string& job) {
    const auto hand = desk.in_hand(job);
    if (!hand) return tl::unexpected(hand.error());
    const auto text = desk.setup().library.find("parts.toml");
    if (text == desk.setup().library.end())
        return refused({"There is no list of parts.", "the folder of checklists, parts.toml", "Install the program again.",
                        ProblemKind::Unreadable});
    const auto parts = checklist::load_parts(text->second, "parts.toml", desk.library());
    if (!parts) return tl::unexpected(parts.error());

    PickListView view{.job = hand->state().number,
                      .place = place_of(hand->state()),
                      .version = fmt::format("version {} of {}", parts->version, parts->date),
                      .rows = {},
                      .instruments = instruments_for(*hand, desk.library())};
    const auto* kit = desk.library().checklist_named("kit");
    for (const auto& needed : checklist::parts_needed(*parts, facts_context(*hand))) {
        const auto* check = kit == nullptr ? nullptr : kit->find(checklist::CheckId{needed.part->check});
        view.rows.push_back({.part = needed.part->id,
                             .check = needed.part->check,
                             .check_title = check == nullptr ? needed.part->check : check->title,
                             .name = needed.name,
                             .note = needed.note,
                             .amount = needed.amount,
                             .how = needed.how,
                             .missing = in_words(needed.missing),
                             .sources = needed.part->sources,
                             .unit = std::string{needed.part->unit.symbol},
                             .least = needed.least ? std::optional{needed.least->in(needed.part->unit)} : std::nullopt,
                             .roof = needed.part->roof,
                             .articles = needed.part->articles,
                             .serial = needed.part->serial,
                             .batch = needed.part->batch});
        add_ticks(view.rows.back(), *hand);
        add_doubts(view.rows.back());
    }
    if (auto held = add_holds(desk, *hand, view.rows); !held) return tl::unexpected(held.error());
    return view;
}

}  // namespace wm::desk
