#include "record/actions.hpp"

#include <algorithm>

namespace wm::record {

namespace {

ActionState* find(OfficeState& office, std::string_view number) {
    const auto found = std::find_if(office.actions.begin(), office.actions.end(),
                                    [&](const ActionState& a) { return a.decided.action == number; });
    return found == office.actions.end() ? nullptr : &*found;
}

}  // namespace

const EffectChecked* ActionState::effect_after(std::int64_t days) const {
    for (auto effect = effects.rbegin(); effect != effects.rend(); ++effect)
        if (effect->second.after_days == days) return &effect->second;
    return nullptr;
}

bool ActionState::is_closed() const {
    if (ended) return true;
    const EffectChecked* last = nullptr;
    for (const auto& [when, effect] : effects)
        if (effect.after_days >= closing_days) last = &effect;
    return last != nullptr && last->verdict == EffectVerdict::Helped;
}

const ActionState* OfficeState::action(std::string_view number) const {
    const auto found = std::find_if(actions.begin(), actions.end(),
                                    [&](const ActionState& a) { return a.decided.action == number; });
    return found == actions.end() ? nullptr : &*found;
}

OfficeState office_of(std::span<const Written> stream) {
    OfficeState office;
    std::size_t order = 0;
    for (const Written& written : stream) {
        const Entry& entry = written.entry;
        const Origin origin{written.hash, entry.device, entry.seq, entry.time, order++};
        std::visit(Cases{
                       [&](const ActionDecided& e) {
                           if (find(office, e.action) == nullptr) office.actions.push_back({origin, e, {}, {}, {}});
                       },
                       [&](const ActionDone& e) {
                           if (auto* action = find(office, e.action)) action->done = std::pair{origin, e};
                       },
                       [&](const EffectChecked& e) {
                           if (auto* action = find(office, e.action)) action->effects.emplace_back(origin, e);
                       },
                       [&](const ActionEnded& e) {
                           if (auto* action = find(office, e.action)) action->ended = std::pair{origin, e};
                       },
                       [&](const InstrumentDoubted& e) { office.doubted_instruments.emplace_back(origin, e); },
                       [&](const BatchDoubted& e) { office.doubted_batches.emplace_back(origin, e); },
                       // Jobs are folded in state.cpp, which has an opinion on every kind.
                       [](const auto&) {},
                   },
                   entry.body);
    }
    return office;
}

}  // namespace wm::record
