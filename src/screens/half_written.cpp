#include "screens/half_written.hpp"

#include <algorithm>
#include <utility>
#include <vector>

namespace wm::screens {
namespace {

using Fields = std::vector<std::pair<std::string_view, std::string*>>;

Fields fields_of(desk::TakeComplaint& take) {
    return {{"symptom", &take.symptom}, {"words", &take.words}, {"since", &take.since}, {"air", &take.air}, {"by", &take.by}};
}

Fields fields_of(desk::CloseComplaint& close) {
    return {{"complaint", &close.complaint}, {"cause", &close.cause}, {"found", &close.found}, {"check", &close.check}, {"visit", &close.visit}};
}

KeptNumber kept_under(std::string_view form, const std::string& job) {
    KeptNumber kept;
    kept.job = job;
    kept.check = kept.form = form;
    return kept;
}

void lay_in(KeptNumber& kept, const Fields& fields) {
    for (const auto& [name, field] : fields)
        if (!field->empty()) kept.words[std::string{name}] = in_one_line(*field);
}

void take_out(const KeptNumber& kept, const Fields& fields) {
    for (const auto& [name, field] : fields)
        if (const auto words = kept.words.find(std::string{name}); words != kept.words.end()) *field = words->second;
}

std::string word_of(const KeptNumber& kept, const char* name) {
    const auto found = kept.words.find(name);
    return found == kept.words.end() ? std::string{} : found->second;
}

/// Who signed already, as the record has it.
bool stands_in(const desk::JobView& job, const KeptNumber& kept) {
    return std::any_of(job.signatures.begin(), job.signatures.end(), [&](const desk::SignatureView& one) {
        return one.role == word_of(kept, "role") && one.name == word_of(kept, "name");
    });
}

bool signs_here(const World& world, const Drafts& drafts) {
    return drafts.screen == Screen::SignOff && world.job && world.job->with.empty() &&
           (world.job->handed_over_at.empty() || world.job->supplement_due);
}

void take_up_signing(const World& world, const KeptNumber& kept, Drafts& drafts) {
    SignDraft& draft = drafts.sign;
    if (!draft.name.empty() || !draft.refused_because.empty()) return;
    if (stands_in(*world.job, kept)) {
        // Saved just before the end: it is not asked for again, and with this kept no longer.
        drafts.run.kept = kept;
        return;
    }
    draft.job = kept.job;
    draft.role = word_of(kept, "role") == "customer" ? desk::Signer::Customer : desk::Signer::Crew;
    draft.name = word_of(kept, "name");
    draft.refused_because = word_of(kept, "reason");
    if (draft.role == desk::Signer::Customer && !draft.refused_because.empty()) draft.mode = SignMode::Refusing;
}

void take_up_call(const KeptNumber& kept, ComplaintDraft& draft, Requests& requests) {
    open_complaints(draft, kept.job, requests);
    if (kept.form == call_words) {
        draft.mode = ComplaintMode::Taking;
        draft.take = {.job = kept.job, .symptom = ""};
        take_out(kept, fields_of(draft.take));
    } else {
        draft.mode = ComplaintMode::Closing;
        draft.close = {.job = kept.job, .complaint = "", .cause = "", .found = ""};
        take_out(kept, fields_of(draft.close));
    }
}

/// What stands half written on the screen at hand; without a job: nothing.
KeptNumber half_written(const World& world, Drafts& drafts) {
    KeptNumber now;
    const SignDraft& sign = drafts.sign;
    if (signs_here(world, drafts) && (!sign.name.empty() || !sign.refused_because.empty())) {
        now = kept_under(signing_words, world.job->row.job);
        std::string name = sign.name;
        std::string reason = sign.refused_because;
        lay_in(now, {{"name", &name}, {"reason", &reason}});
        now.words["role"] = sign.role == desk::Signer::Customer ? "customer" : "crew";
    }
    ComplaintDraft& call = drafts.jobs.complaint;
    if (drafts.screen != Screen::Jobs || !call.is_open || call.job.empty()) return now;
    if (call.mode == ComplaintMode::Taking) {
        now = kept_under(call_words, call.job);
        lay_in(now, fields_of(call.take));
    }
    if (call.mode == ComplaintMode::Closing && !call.close.found.empty()) {
        now = kept_under(closing_words, call.job);
        lay_in(now, fields_of(call.close));
    }
    return now.words.empty() ? KeptNumber{} : now;
}

bool is_call(const KeptNumber& kept) { return kept.form == call_words || kept.form == closing_words; }

/// True where the screen at hand is the one on which it was written.
bool is_of_screen(const KeptNumber& kept, Screen screen) {
    return (screen == Screen::SignOff && kept.form == signing_words) || (screen == Screen::Jobs && is_call(kept));
}

}  // namespace

void take_up_half_written(const World& world, Drafts& drafts, Requests& requests) {
    auto& before = drafts.run.from_before;
    if (!before || !is_of_screen(*before, drafts.screen)) return;
    if (before->form == signing_words) {
        if (!signs_here(world, drafts) || world.job->row.job != before->job) return;
        return take_up_signing(world, *std::exchange(before, std::nullopt), drafts);
    }
    if (drafts.jobs.mode != JobsMode::List || drafts.jobs.complaint.is_open) return;
    take_up_call(*std::exchange(before, std::nullopt), drafts.jobs.complaint, requests);
}

void keep_half_written(const World& world, Drafts& drafts, Requests& requests) {
    KeptNumber& kept = drafts.run.kept;
    // In a job of another that is only looked at nothing is kept, and nothing that was kept is lost.
    if (drafts.screen == Screen::SignOff && world.job && !world.job->with.empty()) return;
    KeptNumber now = half_written(world, drafts);
    // Where nothing is written, what another screen keeps stays.
    if (now == kept || (now.job.empty() && !is_of_screen(kept, drafts.screen))) return;
    kept = now;
    requests.emplace_back(KeepNumber{std::move(now)});
}

}  // namespace wm::screens
