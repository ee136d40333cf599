// Question, demands, verdicts, warnings and reasons of the check at hand.
#include "screens/check_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "screens/number_panel.hpp"

namespace wm::screens {

using desk::CheckView;
using measure::Outcome;

std::string title_of(const World& world, const std::string& check) {
    if (world.job)
        for (const CheckView& each : world.job->checks)
            if (each.id == check) return each.title;
    return check;
}

/// The hold points it waits for, those first that wait for none themselves.
std::vector<std::string> first_to_do(const CheckView& check, const World& world) {
    std::vector<std::string> holds = check.waits_for;
    const auto waits = [&](const std::string& id) {
        if (world.job)
            for (const CheckView& each : world.job->checks)
                if (each.id == id) return !each.waits_for.empty();
        return false;
    };
    std::stable_partition(holds.begin(), holds.end(), [&](const std::string& id) { return !waits(id); });
    return holds;
}

namespace {

constexpr std::string_view read_again = "Read it once more. If it is so, press the same key again.";

constexpr std::string_view all_so = "All so? Press the same key. If one is not, touch it below.";

std::string said_words(const std::vector<std::string>& said) {
    std::string words = "You also say:";
    for (const std::string& one : said) words += (one == said.front() ? " " : "; ") + one;
    return words + ".";
}

/// What is to be done about a reading that does not conform; empty where nothing is.
std::string remedy_words(const CheckView& check) {
    return check.outcome == Outcome::DoesNotConform && !check.on_fail.empty() ? "To do now: " + check.on_fail : std::string{};
}

std::string required_words(const CheckView& check, const RunDraft& draft) {
    const desk::PlaceView* place = place_at_hand(check, draft);
    const bool own = place != nullptr && !place->limits.text.empty();
    const desk::LimitsView& limits = own ? place->limits : check.limits;
    if (limits.text.empty()) return {};
    const std::string of = own || check.measurand.empty() ? std::string{} : " (" + check.measurand + ")";
    const std::string shown = required_as_shown(limits, draft.unit);
    return "Required" + of + ": " + limits.text + (shown.empty() ? shown : " = " + shown);
}

std::string question_words(const CheckView& check, const RunDraft& draft) {
    const desk::PlaceView* place = place_at_hand(check, draft);
    return place != nullptr && !place->question.empty() ? place->question : check.question;
}

}  // namespace

void warning_prose(Touch& touch, const Rect& at, const desk::Preview& preview) {
    ground(touch, at, touch.theme.warn);
    outline(touch, at, touch.theme.warn_text, 0.6F);
    ScrollArea area{touch, "warning", at.inset(touch.mm(1.5F))};
    for (const std::string& words : preview.warnings) area.words(words, Face::Body, touch.theme.warn_text);
    area.words(read_again, Face::Small, touch.theme.warn_text);
}

void said_prose(Touch& touch, const Rect& at, const std::vector<std::string>& said, const desk::Preview* preview) {
    ground(touch, at, touch.theme.warn);
    outline(touch, at, touch.theme.warn_text, 0.6F);
    ScrollArea area{touch, "said", at.inset(touch.mm(1.5F))};
    area.words(said_words(said), Face::Body, touch.theme.warn_text);
    area.words(all_so, Face::Small, touch.theme.warn_text);
    if (preview != nullptr && !preview->why.empty()) area.words("If saved: " + preview->why, Face::Small, touch.theme.warn_text);
}

float height_to_read(const Touch& touch, float width, const std::vector<std::string>& said, const desk::Preview* warns) {
    const float inner = width - touch.mm(8.0F);  // the frame, and a bar that may stand beside
    float height = 0.0F;
    if (!said.empty()) height = prose_height(touch, inner, said_words(said), Face::Body) + prose_height(touch, inner, all_so, Face::Small);
    else if (warns != nullptr) {
        for (const std::string& words : warns->warnings) height += prose_height(touch, inner, words, Face::Body);
        height += prose_height(touch, inner, read_again, Face::Small);
    }
    return height > 0.0F ? height + touch.mm(6.0F) : 0.0F;
}

float remedy_height(const Touch& touch, float width, const CheckView& check, const RunDraft& draft) {
    const std::string words = remedy_words(check);
    if (words.empty() || check.conflict || draft.mode != RunMode::Reading || !draft.value.empty()) return 0.0F;
    // The box, the room around it, and a bar that may stand beside.
    return prose_height(touch, width - touch.mm(8.0F), words, Face::Body) + touch.mm(5.5F);
}

std::vector<Paragraph> first_read(const CheckView& check, const RunDraft& draft, const desk::Preview* preview) {
    std::vector<Paragraph> first;
    const bool would = preview != nullptr && !preview->why.empty();
    if (would) first.push_back({"If saved: " + preview->why, Face::Body});
    const bool held = std::any_of(check.readings.begin(), check.readings.end(), [](const auto& reading) { return !reading.blocked_by.empty(); });
    if (held || check.uncorrected > 0 || !remedy_words(check).empty() || !check.waits_for.empty() || !check.missing_facts.empty()) return first;
    if (!would && check.outcome != Outcome::Open && !check.why.empty()) first.push_back({check.why, Face::Body});
    first.push_back({question_words(check, draft), Face::Body});
    if (std::string required = required_words(check, draft); !required.empty()) first.push_back({std::move(required), Face::Bold});
    return first;
}

void check_prose(Touch& touch, const Rect& at, const CheckView& check, const World& world, const RunDraft& draft,
                 const desk::Preview* preview) {
    const float seen = whole_lines(touch, at.w, at.h, first_read(check, draft, preview));
    ScrollArea area{touch, "about", {at.x, at.y, at.w, seen > 0.0F ? seen : at.h}};
    // A verdict is read from its beginning, wherever the question had been scrolled to.
    if (just_came(draft) || draft.verdict_came) area.to_top();
    const auto boxed = [&](const std::string& text) {
        const float inner = area.width() - touch.mm(4.0F);
        const Rect box = area.take(prose_height(touch, inner, text, Face::Body) + touch.mm(3.0F),
                                   touch.mm(2.0F));
        ground(touch, box, touch.theme.warn);
        outline(touch, box, touch.theme.warn_text, 0.4F);
        prose(touch, {box.x + touch.mm(2.0F), box.y + touch.mm(1.5F), inner, box.h}, text,
              Face::Body, touch.theme.warn_text);
    };
    const bool would = preview != nullptr && !preview->why.empty();
    if (would) area.words("If saved: " + preview->why, Face::Body);
    // Before the reason: in large words on a small glass only what comes first is in sight.
    if (const std::string remedy = remedy_words(check); !remedy.empty()) boxed(remedy);
    if (!would && check.outcome != Outcome::Open && !check.why.empty()) area.words(check.why, Face::Body);
    for (const desk::ReadingView& reading : check.readings) {
        if (reading.undone || reading.superseded || reading.blocked_by.empty()) continue;
        for (const std::string& hold : reading.blocked_by) boxed("Read before its hold point: " + title_of(world, hold) + ".");
        break;
    }
    if (check.uncorrected > 0 && check.outcome != Outcome::DoesNotConform)
        boxed("A reading failed here before, and nothing says what was done. Touch “Put right” and write it down; if it was a slip, take that reading back with Undo.");
    if (check.waits_for.size() == 1) boxed("Waits for the hold point: " + title_of(world, check.waits_for.front()) + ".");
    if (check.waits_for.size() > 1)
        boxed(fmt::format("Waits for {} hold points, the first of them: {}.", check.waits_for.size(),
                          title_of(world, first_to_do(check, world).front())));
    for (std::size_t i = 0; i < check.missing_facts.size(); ++i) {
        const std::string& key = check.missing_facts[i];
        const std::string& words = i < check.missing_words.size() ? check.missing_words[i] : key;
        boxed(fmt::format("Cannot be judged yet: {} ({}) is not known. Enter it under More.", words, key));
    }
    area.words(question_words(check, draft), Face::Body);
    if (const std::string required = required_words(check, draft); !required.empty()) area.words(required, Face::Bold);
    if (check.readings.empty())
        for (const std::string& sentence : check.beforehand) area.words(sentence, Face::Body);
    for (const desk::CautionView& caution : check.cautions) {
        boxed("⚠ " + caution.title + ". " + caution.text);
    }
    if (!check.licence.empty()) boxed("Only for a licensed person: " + check.licence + ".");
    if (check.deferral) {
        area.words(fmt::format("Put off until {}, {} sees to it: {}", check.deferral->until,
                               check.deferral->owner, check.deferral->why));
    }
    if (!check.concession.empty()) area.words("Accepted as it is: " + check.concession);
    if (!check.how.empty()) area.words("How: " + check.how, Face::Small, touch.theme.quiet);
    area.words("Why it matters: " + check.why_it_matters, Face::Small, touch.theme.quiet);
    for (const std::string& line : check.limits.how)
        area.words(line, Face::Small, touch.theme.quiet);
}

}  // namespace wm::screens
