#include "screens/workshop_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "desk/register_table.hpp"

namespace wm::screens {
namespace {

using desk::DraftStep;
using desk::FormField;
using desk::ListDraftView;
using Deed = DraftStep::Deed;

constexpr std::size_t flips_shown = 200;

/// As typed where somebody typed, else as the new view has it.
void take_up(const ListDraftView& view, int looks, WorkshopDraft& draft) {
    if (draft.looks == looks) return;
    draft.looks = looks;
    const bool other = draft.check != view.check;
    draft.check = view.check;
    if (other) draft.typed.clear();
    draft.look_for_it = draft.look_for_it || other;
    for (const FormField& field : view.form) {
        auto& typed = draft.typed[field.key];
        if (other || typed == draft.stood[field.key]) typed = field.value;
        draft.stood[field.key] = field.value;
    }
    if (other || draft.lines == draft.lines_stood) draft.lines = view.lines;
    draft.lines_stood = view.lines;
    if (view.about.replay) draft.past_asked = false;
}

/// What is typed goes first: neither another check nor a publication leaves it behind.
void send_typed(WorkshopDraft& draft, Requests& requests) {
    for (auto& [key, typed] : draft.typed) {
        if (typed == draft.stood[key]) continue;
        requests.emplace_back(DraftStep{draft.list, draft.check, Deed::Value, key, typed});
        draft.stood[key] = typed;
    }
    if (draft.lines == draft.lines_stood) return;
    requests.emplace_back(DraftStep{draft.list, draft.check, Deed::Lines, "", draft.lines});
    draft.lines_stood = draft.lines;
}

void ask(WorkshopDraft& draft, Requests& requests, Deed deed, const std::string& check, std::string text = {}) {
    send_typed(draft, requests);
    requests.emplace_back(DraftStep{draft.list, check, deed, "", std::move(text)});
}

std::string marks_of(const desk::DraftCheck& check) {
    std::string marks;
    if (check.faults > 0) marks = fmt::format("{} fault{}", check.faults, check.faults == 1 ? "" : "s");
    if (check.differences > 0) marks += fmt::format("{}{} changed", marks.empty() ? "" : ", ", check.differences);
    return marks;
}

void checks_column(Touch& touch, const Rect& at, const ListDraftView& view, WorkshopDraft& draft, Requests& requests) {
    const Scope scope{touch, "checks"};
    Rect rest = at;
    (void)field(touch, "search", cut_top(rest, touch.key_side(), touch.gap()), draft.search, "Find a check");
    ScrollArea area{touch, "rows", rest};
    for (const auto& check : view.about.checks) {
        if (!desk::has_words(check.title + " " + check.id, draft.search)) continue;
        const Rect strip = area.take(touch.row_side(), touch.gap());
        if (check.id == view.check && std::exchange(draft.look_for_it, false)) area.look_here();
        if (!area.is_near(strip)) continue;
        const std::string marks = marks_of(check);
        if (key(touch, check.id, strip,
                {.words = check.title,
                 .small = marks.empty() ? std::string_view{check.id} : std::string_view{marks},
                 .role = KeyRole::Row,
                 .state = check.id == view.check ? KeyState::Chosen : KeyState::Ready,
                 .face = Face::Small})) {
            ask(draft, requests, Deed::Look, check.id);
            if (draft.page == WorkshopPage::Checks) draft.page = WorkshopPage::Form;
        }
    }
    if (view.about.checks.empty()) area.words("The text cannot be read as a list just now. Its faults say where.");
}

std::string_view means(std::string_view severity) {
    return severity == "H" ? "hurts" : severity == "D" ? "damages" : severity == "P" ? "costs yield" : "paper";
}

void choice_row(Touch& touch, ScrollArea& area, const FormField& field, const WorkshopDraft& draft, Requests& requests) {
    const Scope scope{touch, field.key};
    const std::vector<std::string> words = field.kind == FormField::Kind::YesNo ? std::vector<std::string>{"yes", "no"} : field.choices;
    const std::vector<Rect> cells = columns(area.take(touch.key_side(), touch.gap()), static_cast<int>(words.size()), touch.gap());
    for (std::size_t i = 0; i < words.size(); ++i) {
        // What the text does not say is no, or none.
        const bool unsaid = field.value.empty() && (words[i] == "no" || words[i] == "none");
        const KeyState state = words[i] == field.value || unsaid ? KeyState::Chosen : KeyState::Ready;
        if (key(touch, words[i], cells[i], {.words = words[i], .small = field.key == "severity" ? means(words[i]) : "", .state = state}) && state == KeyState::Ready)
            requests.emplace_back(DraftStep{draft.list, draft.check, Deed::Value, field.key, words[i]});
    }
}

std::string sentence(const std::string& words) { return words.empty() || words.ends_with('.') ? words : words + "."; }

void form(Touch& touch, const Rect& at, const ListDraftView& view, WorkshopDraft& draft, Requests& requests) {
    const Scope scope{touch, "form"};
    ScrollArea area{touch, "fields", at};
    area.words(view.check, Face::Bold);
    for (const auto& fault : view.about.faults)
        if (fault.check == view.check)
            area.words(fmt::format("{} {} {} (line {})", fault.is_error ? "✗" : "Advice:", sentence(fault.what), fault.what_to_do, fault.line), Face::Small,
                       touch.theme.text);
    if (view.form.empty()) area.words("No form while the text cannot be read; the lines beside it can be put right.", Face::Small);
    for (const FormField& one : view.form) {
        area.words(one.label, Face::Small, touch.theme.quiet);
        if (one.kind != FormField::Kind::Text) {
            choice_row(touch, area, one, draft, requests);
            continue;
        }
        std::string& typed = draft.typed[one.key];
        Rect row = area.take(touch.key_side(), touch.gap());
        const bool is_changed = typed != draft.stood[one.key];
        const bool pressed = is_changed && key(touch, "set " + one.key, cut_right(row, touch.mm(22.0F), touch.gap()),
                                               {.words = "Set", .role = KeyRole::Primary, .face = Face::Small});
        const bool ended = field(touch, one.key, row, typed, typed.empty() ? "not said" : "");
        if ((pressed || ended) && is_changed) send_typed(draft, requests);
        // A field shows one line; the whole is read below it.
        if (prose_height(touch, row.w - touch.mm(4.0F), typed, Face::Body) > 1.6F * em_px(Face::Body, touch.metrics))
            area.words(typed, Face::Small, touch.theme.text);
    }
}

void lines_page(Touch& touch, const Rect& at, WorkshopDraft& draft, Requests& requests) {
    Rect rest = at;
    const Rect strip = cut_bottom(rest, touch.key_side(), touch.gap());
    lines_field(touch, "lines", rest, draft.lines);
    const bool is_changed = draft.lines != draft.lines_stood;
    if (key(touch, "set lines", strip,
            {.words = is_changed ? "Set these lines" : "The lines of this check, as they are written",
             .role = is_changed ? KeyRole::Primary : KeyRole::Plain,
             .state = is_changed ? KeyState::Ready : KeyState::Blocked,
             .face = Face::Small}))
        send_typed(draft, requests);
}

/// The words an installer meets, in the order in which he does.
void seen_page(Touch& touch, const Rect& at, const ListDraftView& view) {
    panel(touch, at);
    ScrollArea area{touch, "seen", at.inset(touch.mm(2.0F))};
    const auto value = [&](std::string_view key) {
        const auto found = std::find_if(view.form.begin(), view.form.end(), [&](const FormField& one) { return one.key == key; });
        return found == view.form.end() ? std::string{} : found->value;
    };
    area.words(value("title"), Face::Bold);
    area.words(value("question"));
    if (!value("tolerance").empty()) area.words("Required: " + value("tolerance"), Face::Bold);
    if (value("hold") == "yes") area.words("Hold point: what comes after it waits.", Face::Small);
    if (const auto photo = value("photo"); !photo.empty() && photo != "none") area.words("Photo " + photo + ".", Face::Small);
    for (const auto& [key, head] : {std::pair{"why", "Why"}, {"how", "How"}, {"pitfall", "What often goes wrong"}, {"on_fail", "When it fails"}}) {
        if (value(key).empty()) continue;
        area.words(head, Face::Small, touch.theme.quiet);
        area.words(value(key));
    }
}

void changes_page(Touch& touch, const Rect& at, const ListDraftView& view, bool is_wide, WorkshopDraft& draft, Requests& requests) {
    const Scope scope{touch, "changes"};
    ScrollArea area{touch, "all", at};
    const auto& about = view.about;
    area.words(about.unready.empty() ? fmt::format("Ready to be version {}.", about.published + 1) : "Not to be published yet: " + about.unready, Face::Bold);
    const auto go = [&](const std::string& name, const std::string& words, const std::string& check, std::string_view small) {
        const Rect strip = area.take(std::max(touch.key_side(), prose_height(touch, area.width() - touch.mm(6.0F), words, Face::Small) + touch.mm(6.0F)), touch.gap());
        if (!area.is_near(strip)) return;
        if (key(touch, name, strip, {.words = words, .small = small, .role = KeyRole::Row, .face = Face::Small}) && !check.empty()) {
            ask(draft, requests, Deed::Look, check);
            if (!is_wide) draft.page = WorkshopPage::Form;
        }
    };
    int n = 0;
    for (const auto& fault : about.faults)
        go(fmt::format("fault {}", n++), fmt::format("{} {} {}", fault.is_error ? "✗" : "Advice:", sentence(fault.what), fault.what_to_do), fault.check,
           fault.check.empty() ? "the list" : fault.check);
    n = 0;
    for (const auto& one : about.differences)
        go(fmt::format("difference {}", n++), one.words + (one.decides ? "" : " (Words only.)"), one.check, one.check.empty() ? "the list" : one.check);
    if (about.faults.empty() && about.differences.empty()) area.words(fmt::format("As version {} is published.", about.published));
}

void past_page(Touch& touch, const Rect& at, const ListDraftView& view, WorkshopDraft& draft, Requests& requests) {
    Rect rest = at;
    if (key(touch, "past", cut_top(rest, touch.key_side(), touch.gap()), {.words = "Judge all past readings by this draft", .face = Face::Small})) {
        ask(draft, requests, Deed::Past, view.check);
        draft.past_asked = true;
    }
    ScrollArea area{touch, "flips", rest};
    if (!view.about.replay) {
        if (draft.past_asked && std::any_of(view.about.faults.begin(), view.about.faults.end(), [](const desk::FaultView& fault) { return fault.is_error; }))
            area.words("The text has a fault that keeps it from being read: see Changes.", Face::Bold);
        area.words("Shows which outcomes a changed tolerance would turn, before anybody works by it. Nothing in the journal changes.", Face::Small);
        return;
    }
    const auto& replay = *view.about.replay;
    area.words(fmt::format("{} of {} readings would come out otherwise.", replay.flips.size(), replay.results), Face::Bold);
    area.words(fmt::format("{} belong to checks that changed and were judged again. Does not conform: {:.2f} % before, {:.2f} % after.", replay.judged_again,
                           100.0 * replay.share_before, 100.0 * replay.share_after));
    for (const auto& row : replay.by_check)
        area.words(row.before.results == 0 ? fmt::format("{}: no reading yet.", row.check)
                                           : fmt::format("{}: {} of {} do not conform ({:.1f} to {:.1f} %), {} with the draft ({:.1f} to {:.1f} %).", row.check,
                                                         row.before.failed, row.before.results, 100.0 * row.before.low, 100.0 * row.before.high, row.after.failed,
                                                         100.0 * row.after.low, 100.0 * row.after.high));
    for (const auto& gone : replay.dropped) area.words("Readings exist of a check that the draft no longer has: " + gone, Face::Small);
    for (std::size_t i = 0; i < std::min(replay.flips.size(), flips_shown); ++i) {
        const auto& flip = replay.flips[i];
        area.words(fmt::format("{} · {}{}{}: {}, would be {}. {}", flip.job, flip.check, flip.place.empty() ? "" : " ", flip.place, flip.was, flip.would_be, flip.why),
                   Face::Small, touch.theme.text);
    }
    if (replay.flips.size() > flips_shown) area.words(fmt::format("And {} more: witnessmark replay lists all.", replay.flips.size() - flips_shown), Face::Small);
}

struct PageKey {
    WorkshopPage page;
    std::string_view name, words;
};

void page_row(Touch& touch, const Rect& at, bool is_wide, WorkshopDraft& draft) {
    const Scope scope{touch, "page"};
    constexpr std::array all{PageKey{WorkshopPage::Checks, "checks", "Checks"}, PageKey{WorkshopPage::Form, "form", "Form"},
                             PageKey{WorkshopPage::Lines, "lines", "Text"},     PageKey{WorkshopPage::Seen, "seen", "As seen"},
                             PageKey{WorkshopPage::Changes, "changes", "Changes"}, PageKey{WorkshopPage::Past, "past", "Past"}};
    const std::size_t first = is_wide ? 2 : 0;
    const std::vector<Rect> cells = columns(at, static_cast<int>(all.size() - first), touch.gap());
    for (std::size_t i = first; i < all.size(); ++i)
        if (key(touch, all[i].name, cells[i - first],
                {.words = all[i].words, .state = draft.page == all[i].page ? KeyState::Chosen : KeyState::Ready, .face = Face::Small}))
            draft.page = all[i].page;
}

void page_of(Touch& touch, const Rect& at, const ListDraftView& view, bool is_wide, WorkshopDraft& draft, Requests& requests) {
    switch (draft.page) {
        case WorkshopPage::Form: return form(touch, at, view, draft, requests);
        case WorkshopPage::Checks: return checks_column(touch, at, view, draft, requests);
        case WorkshopPage::Lines: return lines_page(touch, at, draft, requests);
        case WorkshopPage::Seen: return seen_page(touch, at, view);
        case WorkshopPage::Changes: return changes_page(touch, at, view, is_wide, draft, requests);
        case WorkshopPage::Past: return past_page(touch, at, view, draft, requests);
    }
}

void publish_row(Touch& touch, const Rect& at, const ListDraftView& view, const World& world, WorkshopDraft& draft, Requests& requests) {
    Rect rest = at;
    const auto& about = view.about;
    if (!draft.why_sent.empty() && !world.saving && world.answered != draft.why_sent_after) {
        if (about.published == draft.why_sent_at && draft.why.empty()) draft.why = draft.why_sent;
        draft.why_sent.clear();
    }
    const bool is_typed = draft.lines != draft.lines_stood || draft.typed != draft.stood;
    const bool ready = (about.unready.empty() || is_typed) && !draft.why.empty();
    const std::string why_not = ready ? std::string{} : !about.unready.empty() && !is_typed ? about.unready : draft.why.empty() ? std::string{"say why first"} : std::string{};
    if (key(touch, "publish", cut_right(rest, touch.mm(52.0F), touch.gap()),
            {.words = fmt::format("Publish version {}", about.published + 1), .small = why_not, .role = KeyRole::Primary, .state = ready ? KeyState::Ready : KeyState::Blocked, .face = Face::Small})) {
        ask(draft, requests, Deed::Publish, view.check, draft.why);
        draft.why_sent = std::exchange(draft.why, {});
        draft.why_sent_after = world.answered;
        draft.why_sent_at = about.published;
    }
    const bool has_draft = !about.differences.empty() || !about.faults.empty();
    if (key(touch, "anew", cut_right(rest, touch.mm(36.0F), touch.gap()),
            {.words = draft.sure_anew ? "Yes, anew" : "Start anew", .small = draft.sure_anew ? "the draft is put aside" : "", .state = has_draft ? KeyState::Ready : KeyState::Blocked, .face = Face::Small})) {
        if (draft.sure_anew) {
            draft.typed = draft.stood;
            draft.lines = draft.lines_stood;
            requests.emplace_back(DraftStep{draft.list, view.check, Deed::Anew, "", ""});
        }
        draft.sure_anew = !draft.sure_anew;
    }
    (void)field(touch, "why", rest, draft.why, "Why it is changed, for the list");
}

}  // namespace

WorkshopDraft workshop_for(const std::string& list, Requests& requests) {
    requests.emplace_back(DraftStep{list, "", Deed::Look, "", ""});
    WorkshopDraft draft;
    draft.list = list;
    return draft;
}

void workshop_sheet(Touch& touch, const Rect& at, const World& world, WorkshopDraft& draft, Requests& requests) {
    const Scope scope{touch, "workshop"};
    Rect rest = at;
    Rect head = cut_top(rest, touch.key_side(), touch.gap());
    if (key(touch, "back", cut_right(head, touch.mm(30.0F), touch.gap()), {.words = "Back", .face = Face::Small})) {
        send_typed(draft, requests);
        draft = {};
        return;
    }
    if (!world.list_draft || world.list_draft->list != draft.list) {
        prose(touch, rest, "The list is being read.", Face::Body, touch.theme.text);
        return;
    }
    const ListDraftView& view = *world.list_draft;
    take_up(view, world.list_draft_looks, draft);
    line_of_text(touch, head,
                 view.said.empty() ? fmt::format("{} · version {} is published", view.list, view.about.published) : view.said,
                 {.face = Face::Bold, .colour = touch.theme.text});
    publish_row(touch, cut_bottom(rest, touch.key_side(), touch.gap()), view, world, draft, requests);
    const bool is_wide = rest.w >= touch.mm(270.0F * touch.metrics.text_scale());
    if (is_wide && (draft.page == WorkshopPage::Form || draft.page == WorkshopPage::Checks)) draft.page = WorkshopPage::Lines;
    if (is_wide) {
        checks_column(touch, cut_left(rest, rest.w * 0.24F, touch.mm(4.0F)), view, draft, requests);
        form(touch, cut_left(rest, rest.w * 0.5F, touch.mm(4.0F)), view, draft, requests);
    }
    page_row(touch, cut_top(rest, touch.key_side(), touch.gap()), is_wide, draft);
    page_of(touch, rest, view, is_wide, draft, requests);
}

}  // namespace wm::screens
