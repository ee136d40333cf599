#include "screens/house_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace wm::screens {
namespace {

using desk::FactView;

std::string table_of(const FactView& fact) { return fact.key.substr(0, fact.key.find('.')); }

std::string table_words(std::string_view table) {
    constexpr std::pair<std::string_view, std::string_view> words[] = {
        {"job", "Job"},       {"customer", "Customer"},    {"site", "Site"},           {"roof", "Roof"},       {"water", "Water"},
        {"energy", "Energy"}, {"heater", "Heater"},        {"house", "House"},         {"elec", "Electrical"}, {"sys", "The set"},
        {"serial", "Serial numbers"}, {"batch", "Batches"}, {"crew", "Crew"}, {"wx", "Weather"}, {"pos", "Places"}};
    for (const auto& [name, said] : words)
        if (name == table) return std::string{said};
    return std::string{table};
}

/// Known and unknown ones together, table by table as a facts file has them.
std::vector<FactView> all_facts(const desk::JobView& job) {
    std::vector<FactView> all = job.unknown_facts;
    all.insert(all.end(), job.facts.begin(), job.facts.end());
    std::vector<std::string> order;
    for (const FactView& fact : all)
        if (std::find(order.begin(), order.end(), table_of(fact)) == order.end()) order.push_back(table_of(fact));
    std::stable_sort(all.begin(), all.end(), [&](const FactView& a, const FactView& b) {
        return std::find(order.begin(), order.end(), table_of(a)) < std::find(order.begin(), order.end(), table_of(b));
    });
    return all;
}

void state_one(Touch& touch, const Rect& at, const FactView& fact, RunDraft& draft, Requests& requests) {
    Rect rest = at;
    const std::vector<Rect> deeds = columns(cut_bottom(rest, touch.strong_side(), touch.gap()), 2, touch.gap());
    {
        ScrollArea area{touch, "one", rest};
        area.heading(fact.meaning.empty() ? fact.key : fact.meaning);
        area.words(fact.text.empty() ? "Not known yet." : fmt::format("Now: {} {}", fact.text, fact.unit));
        if (!fact.unit.empty()) area.words(fmt::format("A plain number is in {}. It may carry another unit.", fact.unit), Face::Small);
        for (const std::string& choice : fact.choices)
            if (key(touch, choice, area.take(touch.row_side(), touch.gap()),
                    {.words = choice, .state = choice == draft.fact ? KeyState::Chosen : KeyState::Ready}))
                draft.fact = choice;
        if (fact.choices.empty()) (void)field(touch, "fact", area.take(touch.key_side(), touch.gap()), draft.fact, fact.key);
    }
    if (key(touch, "back", deeds[0], {.words = "Back to the list"})) {
        draft.house_fact.clear();
        draft.fact.clear();
    }
    const bool ready = !draft.fact.empty();
    if (key(touch, "state", deeds[1],
            {.words = "Keep it", .role = ready ? KeyRole::Primary : KeyRole::Answer, .state = ready ? KeyState::Ready : KeyState::Blocked,
             .why = "First choose or write what it is."})) {
        requests.emplace_back(desk::Intent{desk::StateFacts{draft.job, {{fact.key, draft.fact}}}});
        draft.sent_fact = SentFact{fact.key, draft.fact, draft.answered, RunMode::House};
        draft.house_fact.clear();
        draft.fact.clear();
    }
}

}  // namespace

void house_sheet(Touch& touch, const Rect& at, const desk::JobView& job, RunDraft& draft, Requests& requests) {
    const Scope scope{touch, "house"};
    const std::vector<FactView> all = all_facts(job);
    for (const FactView& fact : all)
        if (fact.key == draft.house_fact) return state_one(touch, at, fact, draft, requests);
    Rect rest = at;
    const Rect back = cut_bottom(rest, touch.strong_side(), touch.gap());
    // Above the list, where it is seen wherever the list stands; the last one stated comes last.
    // What is asked at a check is no line of this list.
    const auto asked = std::find_if(job.questions.rbegin(), job.questions.rend(), [&](const std::string& question) {
        return std::none_of(job.checks.begin(), job.checks.end(), [&](const desk::CheckView& check) {
            return std::find(check.beforehand.begin(), check.beforehand.end(), question) != check.beforehand.end();
        });
    });
    if (asked != job.questions.rend()) {
        const std::string words = "⚠ " + *asked + " Is it so? Touch its line to state it anew.";
        const Rect box = cut_top(rest, prose_height(touch, rest.w - touch.mm(4.0F), words, Face::Bold) + touch.mm(3.0F), touch.gap());
        ground(touch, box, touch.theme.warn);
        prose(touch, {box.x + touch.mm(2.0F), box.y + touch.mm(1.5F), box.w - touch.mm(4.0F), box.h}, words, Face::Bold, touch.theme.warn_text);
    }
    {
        ScrollArea area{touch, "list", rest};
        area.heading("What is known of this house");
        area.words("Touch a line to state it. What was stated before stays on record.", Face::Small);
        std::string table;
        for (const FactView& fact : all) {
            if (table_of(fact) != table) area.words(table_words(table = table_of(fact)), Face::Bold);
            const Rect strip = area.take(touch.row_side(), touch.gap());
            if (!area.is_near(strip)) continue;
            const std::string value = fact.text.empty() ? "–" : fact.unit.empty() ? fact.text : fact.text + " " + fact.unit;
            if (key(touch, fact.key, strip, {.words = fact.meaning.empty() ? fact.key : fact.meaning, .small = value, .role = KeyRole::Row}))
                draft.house_fact = fact.key;
        }
    }
    if (key(touch, "back", back, {.words = "Back"})) draft.mode = RunMode::Reading;
}

}  // namespace wm::screens
