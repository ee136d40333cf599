// Sign-off screen.
#include "screens/sign_screen.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "screens/marks.hpp"
#include "screens/screen_canvas.hpp"

namespace wm::screens {
namespace {

using desk::JobView;

const desk::CheckView* check_named(const JobView& job, std::string_view id) {
    for (const desk::CheckView& check : job.checks) {
        if (check.id == id) return &check;
    }
    return nullptr;
}

/// "2026-11-27 14:22" of a time with seconds and zone.
std::string said_at(std::string time) {
    if (time.size() > 16) time.resize(16);
    if (time.size() == 16 && time[10] == 'T') time[10] = ' ';
    return time;
}

std::optional<std::string> what_stands(Touch& touch, const Rect& at, const World& world) {
    const JobView& job = *world.job;
    std::optional<std::string> wanted;
    ScrollArea area{touch, "state", at};
    const bool over = !job.handed_over_at.empty();
    if (over) {
        area.heading(fmt::format("Handed over on {}.", said_at(job.handed_over_at)));
        area.words("The report lies with its message in the Outbox. What comes in later, as a put-off check, goes into a supplement.");
    } else if (job.blockers.empty()) {
        area.heading("Nothing blocks the signatures.");
    } else {
        area.heading(
            fmt::format("{} still in the way. Touch one to go there.", job.blockers.size()));
    }
    for (const desk::BlockerView& blocker : job.blockers) {
        const desk::CheckView* check = check_named(job, blocker.check);
        const auto outcome = measure::outcome_named(blocker.outcome);
        if (marked_row(touch, "go to " + blocker.check,
                       area.take(touch.mm(key_mm + 3.0F), touch.gap()),
                       {.outcome = outcome.value_or(measure::Outcome::Open),
                        .words = check != nullptr ? check->title : blocker.check,
                        .small = blocker.why})) {
            wanted = blocker.check;
        }
    }
    std::vector<const desk::CheckView*> undone;
    for (const desk::CheckView& check : job.checks) {
        const bool entered = check.form != desk::EntryForm::None && check.form != desk::EntryForm::Signature;
        const bool told = std::any_of(job.blockers.begin(), job.blockers.end(), [&](const auto& one) { return one.check == check.id; });
        if (check.applies && entered && !told && check.severity == "H" && check.outcome == measure::Outcome::Open) undone.push_back(&check);
    }
    if (!undone.empty())
        area.heading(over ? "Was not done, though it can hurt someone. Page one says so."
                          : "Not done, though it can hurt someone. Page one will say so. Touch one to do it now:");
    for (const desk::CheckView* check : undone) {
        if (marked_row(touch, "go to " + check->id, area.take(touch.mm(key_mm + 3.0F), touch.gap()),
                       {.outcome = check->outcome, .words = check->title, .small = "not done yet"}))
            wanted = check->id;
    }
    if (!job.restrictions.empty()) area.heading("The handover will be restricted:");
    for (const std::string& id : job.restrictions) {
        const desk::CheckView* check = check_named(job, id);
        area.words("• " + (check != nullptr ? check->title : id));
    }
    for (const std::string& line : job.questions) area.words("Asked: " + line);
    for (const std::string& line : job.times) area.words(line, Face::Small, touch.theme.quiet);
    if (!world.page_one.empty()) area.heading("Read this to the customer:");
    for (const std::string& line : world.page_one) area.words(line);
    return wanted;
}

void record(Touch& touch, const std::optional<Contact>& contact, const Moment& moment,
            SignDraft& draft) {
    if (!contact) {
        draft.pen_down = false;
        return;
    }
    if (draft.strokes.empty()) draft.first_s = moment.monotonic_s;
    if (!draft.pen_down) draft.strokes.emplace_back();
    draft.pen_down = true;
    const desk::StrokePoint point{
        .x_mm = contact->x / touch.metrics.px_per_mm,
        .y_mm = contact->y / touch.metrics.px_per_mm,
        .ms = static_cast<int>(std::lround((moment.monotonic_s - draft.first_s) * 1000.0))};
    desk::Stroke& stroke = draft.strokes.back();
    const bool moved = stroke.empty() || std::hypot(stroke.back().x_mm - point.x_mm,
                                                    stroke.back().y_mm - point.y_mm) > 0.15;
    if (moved) stroke.push_back(point);
}

void signature_pad(Touch& touch, const Rect& at, const Moment& moment, SignDraft& draft) {
    record(touch, pad(touch, "pad", at), moment, draft);
    ScreenCanvas canvas{touch, at};
    const drawing::Box sheet = canvas.sheet();
    const double line = sheet.height * 0.78;
    canvas.line({6.0, line}, {sheet.width - 6.0, line}, {drawing::Ink::Hairline, 0.3});
    for (const desk::Stroke& stroke : draft.strokes) {
        std::vector<drawing::Point> points;
        for (const desk::StrokePoint& point : stroke) points.push_back({point.x_mm, point.y_mm});
        if (points.size() == 1) canvas.fill_circle(points.front(), 0.5, drawing::Ink::Text);
        canvas.stroke(points, drawing::Ends::Open, {drawing::Ink::Text, 0.8});
    }
}

const desk::SignatureView* signed_by(const JobView& job, desk::Signer role) {
    const std::string_view word = role == desk::Signer::Crew ? "crew" : "customer";
    // Who signs again is the one that counts.
    for (auto one = job.signatures.rbegin(); one != job.signatures.rend(); ++one)
        if (one->role == word) return &*one;
    return nullptr;
}

void role_keys(Touch& touch, const Rect& at, const JobView& job, SignDraft& draft) {
    const std::vector<Rect> cells = columns(at, 2, touch.gap());
    const auto one = [&](std::string_view name, std::string_view words, desk::Signer role,
                         const Rect& cell) {
        const desk::SignatureView* is = signed_by(job, role);
        const std::string small = is == nullptr ? std::string{"has not signed"}
                                  : is->refused_because.empty()
                                      ? fmt::format("signed: {}", is->name)
                                      : std::string{"does not sign"};
        if (key(touch, name, cell,
                {.words = words,
                 .small = small,
                 .state = draft.role == role ? KeyState::Chosen : KeyState::Ready}) &&
            draft.role != role) {
            draft = {};
            draft.role = role;
        }
    };
    one("crew", "Crew", desk::Signer::Crew, cells[0]);
    one("customer", "Customer", desk::Signer::Customer, cells[1]);
}

void send_signature(const JobView& job, SignDraft& draft, Requests& requests) {
    desk::Sign sign{.job = job.row.job,
                    .role = draft.role,
                    .name = draft.name,
                    .strokes = draft.strokes,
                    .refused_because = {}};
    if (draft.mode == SignMode::Refusing) {
        sign.strokes.clear();
        sign.refused_because = draft.refused_because;
    }
    requests.emplace_back(desk::Intent{std::move(sign)});
    // What was written stays until it is known to be kept: a refusal must not cost a signature.
    draft.sent = true;
}

/// Empties the pad once the signature stands in the record.
void look_after_sent(const JobView& job, SignDraft& draft) {
    if (!draft.sent) return;
    const desk::SignatureView* is = signed_by(job, draft.role);
    if (is == nullptr || is->name != draft.name) return;
    // The pad is handed on: what comes next is the other's.
    const bool customers_turn = draft.role == desk::Signer::Crew && signed_by(job, desk::Signer::Customer) == nullptr;
    const desk::Signer role = customers_turn ? desk::Signer::Customer : draft.role;
    draft = {};
    draft.role = role;
}

/// Heights of the signing side: enough for all, and the least in which more than a name can be written.
constexpr float roomy_mm = 104.0F;
constexpr float least_mm = 88.0F;

void writing(Touch& touch, const Rect& at, SignDraft& draft) {
    Rect rest = at;
    (void)field(touch, "name", cut_top(rest, touch.key_side(), touch.gap()), draft.name, "name of who signs");
    if (draft.mode != SignMode::Refusing) return;
    (void)field(touch, "reason", cut_top(rest, touch.key_side(), touch.gap()), draft.refused_because,
                "why the customer does not sign, in their words");
}

/// After the handover nothing is signed and nothing wiped: who signed, where the report is and what became of its message.
void handed_over(Touch& touch, const Rect& at, const World& world, Requests& requests) {
    const JobView& job = *world.job;
    Rect rest = at;
    const Rect save = cut_bottom(rest, touch.strong_side() + touch.mm(4.0F), touch.gap());
    {
        ScrollArea area{touch, "done", rest};
        area.heading("Signed and handed over");
        for (const desk::SignatureView& one : job.signatures) {
            const std::string who = one.role == "crew" ? "Crew" : "Customer";
            area.words(one.refused_because.empty() ? fmt::format("{}: {}, {}", who, one.name, said_at(one.at))
                                                   : fmt::format("{} did not sign: {}", who, one.refused_because));
        }
        for (const desk::MessageView& message : world.messages)
            if (message.job == job.row.job) area.words(fmt::format("Message to {}: {}", message.to, message.state_words));
        if (const std::string& file = world.report_file; file.find(job.row.job) != std::string::npos) area.words("The report is the file " + file);
    }
    if (key(touch, "save report", save,
            {.words = "Save the report as a file", .small = "the sealed PDF, to open, print or copy", .role = KeyRole::Primary, .face = Face::Bold}))
        requests.emplace_back(SaveReport{job.row.job});
}

void signing(Touch& touch, const Rect& at, const World& world, SignDraft& draft,
             Requests& requests) {
    const JobView& job = *world.job;
    look_after_sent(job, draft);
    if (!job.handed_over_at.empty() && !job.supplement_due) return handed_over(touch, at, world, requests);
    // After a restart the pad is for who has not signed: a customer must not sign in the crew's place.
    const bool untouched = draft.name.empty() && draft.strokes.empty() && !draft.pen_down;
    if (std::exchange(draft.job, job.row.job) != job.row.job && untouched && signed_by(job, desk::Signer::Crew) != nullptr &&
        signed_by(job, desk::Signer::Customer) == nullptr)
        draft.role = desk::Signer::Customer;
    Rect rest = at;
    // With a running series above, a small panel has no room to spare: what is left goes to the pad.
    const bool is_low = at.h < touch.mm(roomy_mm);
    Rect roles = cut_top(rest, touch.mm(key_mm + 3.0F), touch.gap());
    const Rect name = is_low ? cut_right(roles, roles.w * 0.45F, touch.gap()) : cut_top(rest, touch.key_side(), touch.gap());
    role_keys(touch, roles, job, draft);
    (void)field(touch, "name", name, draft.name, is_low ? "who signs" : "name of who signs");
    const Rect hand_over = cut_bottom(rest, touch.strong_side(), touch.gap());
    const std::vector<Rect> keys =
        columns(cut_bottom(rest, touch.strong_side(), touch.gap()),
                draft.role == desk::Signer::Customer ? 4 : 3, touch.gap());
    if (draft.mode == SignMode::NameOnly) {
        ScrollArea area{touch, "name only", rest};
        area.words("The typed name stands for the signature. The report says that it was not drawn.");
    } else if (draft.mode == SignMode::Pad) {
        Rect pad_at = rest;
        pad_at.h = std::min(pad_at.h, touch.mm(70.0F));
        signature_pad(touch, pad_at, world.moment, draft);
    } else {
        (void)field(touch, "reason", cut_top(rest, touch.key_side(), touch.gap()),
                    draft.refused_because, "why the customer does not sign, in their words");
    }
    if (key(touch, "clear", keys[0], {.words = "Wipe"})) draft.strokes.clear();
    const bool told = draft.mode == SignMode::NameOnly ||
                      (draft.mode == SignMode::Pad ? !draft.strokes.empty() : !draft.refused_because.empty());
    // A list that begins with the customer's leave is signed before anything else of it is done.
    const bool is_leave = draft.role == desk::Signer::Customer && !job.checks.empty() && job.checks.front().form == desk::EntryForm::Signature;
    const bool blocked = !job.blockers.empty() && !is_leave;
    const bool complete = !draft.name.empty() && told && !blocked;
    const std::string_view wanted = blocked ? "checks stand in the way" : draft.name.empty() ? "the name is missing"
                                    : told                              ? ""
                                    : draft.mode == SignMode::Refusing  ? "the reason is missing"
                                                                        : "nothing is drawn yet";
    if (key(touch, "no pen", keys[1],
            {.words = "Name only", .state = draft.mode == SignMode::NameOnly ? KeyState::Chosen : KeyState::Ready})) {
        draft.mode = draft.mode == SignMode::NameOnly ? SignMode::Pad : SignMode::NameOnly;
        draft.strokes.clear();
    }
    if (draft.role == desk::Signer::Customer &&
        key(touch, "refuses", keys[2],
            {.words = "Does not sign",
             .state = draft.mode == SignMode::Refusing ? KeyState::Chosen : KeyState::Ready})) {
        draft.mode = draft.mode == SignMode::Refusing ? SignMode::Pad : SignMode::Refusing;
    }
    if (key(touch, "sign", keys.back(),
            {.words = draft.mode == SignMode::Refusing ? "Record it" : "Sign",
             .small = wanted,
             .role = complete ? KeyRole::Primary : KeyRole::Answer,
             .state = complete ? KeyState::Ready : KeyState::Blocked,
             .face = Face::Bold})) {
        send_signature(job, draft, requests);
    }
    const bool unsigned_yet = !job.supplement_due && (signed_by(job, desk::Signer::Crew) == nullptr || signed_by(job, desk::Signer::Customer) == nullptr);
    if (key(touch, "hand over", hand_over,
            {.words = job.supplement_due ? "Make the supplement to the report" : "Hand over: make the report",
             .small = unsigned_yet ? "after crew and customer have signed" : "",
             .role = unsigned_yet ? KeyRole::Answer : KeyRole::Primary,
             .state = unsigned_yet ? KeyState::Blocked : KeyState::Ready,
             .face = Face::Bold})) {
        requests.emplace_back(desk::Intent{desk::HandOver{job.row.job}});
    }
}

}  // namespace

std::optional<std::string> sign_screen(Touch& touch, const Rect& at, const World& world,
                                       SignDraft& draft, Requests& requests) {
    const Scope scope{touch, "sign"};
    if (!world.job) {
        prose(touch, at, "No job is open. Choose one on the screen Jobs (F2).", Face::Body,
              touch.theme.text);
        return std::nullopt;
    }
    Rect rest = at;
    const Rect pads =
        at.w >= at.h && at.w >= touch.mm(170.0F) ? cut_right(rest, rest.w * 0.5F, touch.mm(5.0F))
                     : cut_bottom(rest, std::min(touch.mm(150.0F), rest.h * 0.66F), touch.mm(4.0F));
    // Under the letters on the glass there is room for the name, and for nothing else.
    if (pads.h < touch.mm(least_mm)) {
        writing(touch, pads, draft);
        return what_stands(touch, rest, world);
    }
    std::optional<std::string> wanted = what_stands(touch, rest, world);
    signing(touch, pads, world, draft, requests);
    return wanted;
}

}  // namespace wm::screens
