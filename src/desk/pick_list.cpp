#include "desk/pick_list.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "checklist/facts.hpp"
#include "checklist/parts_list.hpp"
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
                             .sources = needed.part->sources});
    }
    return view;
}

}  // namespace wm::desk
