#include "desk/outbox.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <utility>

#include "desk/kept_messages.hpp"
#include "desk/report_words.hpp"
#include "desk/view_parts.hpp"
#include "digest/hash.hpp"
#include "digest/text.hpp"
#include "post/address.hpp"

namespace wm::desk {

namespace {

post::PostState state_of(const record::MessageRecord& message) {
    if (message.tries.empty()) return post::PostState::Waiting;
    switch (message.tries.back().state) {
        case record::MessageState::Waiting: return post::PostState::Waiting;
        case record::MessageState::Sent: return post::PostState::Sent;
        case record::MessageState::Refused: return post::PostState::Refused;
        case record::MessageState::CannotSend: return post::PostState::CannotSend;
    }
    return post::PostState::Waiting;
}

record::MessageState kept(post::PostState state) {
    switch (state) {
        case post::PostState::Waiting: return record::MessageState::Waiting;
        case post::PostState::Sent: return record::MessageState::Sent;
        case post::PostState::Refused: return record::MessageState::Refused;
        case post::PostState::CannotSend: return record::MessageState::CannotSend;
    }
    return record::MessageState::Waiting;
}

std::string in_sentence(post::PostState state, const record::MessageRecord& message) {
    switch (state) {
        case post::PostState::Waiting:
            return message.tries.empty() ? "Waits to be sent for the first time."
                                         : "Waits; it will be tried again. " + message.tries.back().answer;
        case post::PostState::Sent: return "The mail server took it.";
        case post::PostState::Refused: return "Will not be tried again. " + message.tries.back().answer;
        case post::PostState::CannotSend: return "Waits for a person. " + message.tries.back().answer;
    }
    return "";
}

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; }

// Answers of servers repeat the address, perhaps in other case; the journal must not keep it. And
// they may be in any encoding, while the journal takes text only: other bytes become a "?".
std::string without(std::string text, const std::string& address) {
    if (!digest::is_utf8(text))
        for (char& c : text)
            if (static_cast<unsigned char>(c) >= 0x80) c = '?';
    text = digest::composed(text);
    const auto same = [](char a, char b) { return lower(a) == lower(b); };
    while (!address.empty()) {
        const auto at = std::search(text.begin(), text.end(), address.begin(), address.end(), same);
        if (at == text.end()) break;
        text.replace(at, at + static_cast<std::ptrdiff_t>(address.size()), "(the address)");
    }
    std::size_t end = std::min<std::size_t>(text.size(), 400);
    while (end < text.size() && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) --end;
    return text.substr(0, end);
}

// A supplement never goes out before the report it follows.
std::vector<std::pair<std::string, record::MessageRecord>> oldest_first(const record::JobState& job) {
    std::vector<std::pair<std::string, record::MessageRecord>> messages{job.messages.begin(), job.messages.end()};
    std::stable_sort(messages.begin(), messages.end(),
                     [](const auto& a, const auto& b) { return a.second.origin.order < b.second.origin.order; });
    return messages;
}

bool waits_for_a_person(const record::MessageRecord& message) {
    return !message.tries.empty() && message.tries.back().state == record::MessageState::CannotSend;
}

std::vector<MessageView> views_of(const record::JobState& job) {
    std::vector<MessageView> views;
    for (const auto& [id, message] : oldest_first(job)) {
        const auto state = state_of(message);
        views.push_back({.message = id,
                         .to = record::shown(message.queued.to),
                         .subject = record::shown(message.queued.subject),
                         .state = post::in_words(state),
                         .state_words = in_sentence(state, message),
                         .next_try = message.tries.empty() ? "" : message.tries.back().next_try,
                         .last_answer = message.tries.empty() ? "" : message.tries.back().answer,
                         .job = job.number,
                         .tries = static_cast<int>(message.tries.size())});
    }
    return views;
}

/// What is kept was dropped with the last erasure, and each job in it names the entry it was seen after.
KeptOutbox kept_outbox(const store::Journal& journal) {
    const auto kept = journal.cache("messages");
    if (!kept || kept->made_from != outbox_made_from) return {};
    return read_outbox(kept->body).value_or(KeptOutbox{});
}

bool is_over(const MessageView& message) {
    return message.state == post::in_words(post::PostState::Sent) || message.state == post::in_words(post::PostState::Refused);
}

/// The jobs that have a message of which `wanted` holds, folded one at a time.
template <class Wanted, class Work>
Result<void> each_job_with(Desk& desk, Wanted wanted, Work work) {
    const auto all = messages(desk);
    if (!all) return tl::unexpected(all.error());
    std::set<std::string> jobs;
    for (const auto& message : *all)
        if (wanted(message)) jobs.insert(message.job);
    for (const auto& job : jobs) {
        const auto entries = desk.journal().read_job(job);
        if (!entries) return tl::unexpected(entries.error());
        if (auto done = work(record::folded(job, entries->entries)); !done) return done;
    }
    return {};
}

}  // namespace

// Jobs are folded and let go: those of years, held all at once, would fill the memory of a tablet.
Result<std::vector<MessageView>> messages(Desk& desk) {
    auto& journal = desk.journal();
    const auto lines = journal.jobs();
    if (!lines) return tl::unexpected(lines.error());
    auto outbox = kept_outbox(journal);
    KeptOutbox now;
    std::vector<MessageView> views;
    std::size_t read_again = 0;
    for (const auto& line : *lines) {
        auto kept = outbox.find(line.job);
        if (kept == outbox.end() || kept->second.last_hash != line.last_hash) {
            const auto entries = journal.read_job(line.job);
            // A disk that fails is no reason to leave a job out.
            if (!entries && entries.error().kind == ProblemKind::NotStored) return tl::unexpected(entries.error());
            if (!entries) continue;
            const auto state = record::folded(line.job, entries->entries);
            if (!state.opened) continue;
            ++read_again;
            // A damaged job may be mended by a bundle, which leaves its last entry as it was.
            KeptMessages fresh{entries->damaged.empty() ? line.last_hash : std::string{}, views_of(state)};
            kept = outbox.insert_or_assign(line.job, std::move(fresh)).first;
        }
        views.insert(views.end(), kept->second.messages.begin(), kept->second.messages.end());
        now.insert(now.end(), outbox.extract(kept));
    }
    // Written rarely: what a few jobs cost to read again is less than writing the whole.
    constexpr std::size_t worth_keeping = 16;
    if (read_again < worth_keeping || desk.setup().access != Access::Write) return views;
    if (const auto text = text_of(now))
        if (auto done = journal.put_cache("messages", {std::string{outbox_made_from}, *text}); !done) return tl::unexpected(done.error());
    return views;
}

Result<Posted> send_messages(Desk& desk, const Send& send, Which which) {
    Posted posted;
    std::optional<Problem> unreadable;
    const auto try_all = [&](const record::JobState& job) -> Result<void> {
        for (const auto& [id, message] : oldest_first(job)) {
            const auto state = state_of(message);
            if (state == post::PostState::Sent || state == post::PostState::Refused || job.erased) continue;
            // A wrong password tried over and over locks the account.
            if (which == Which::DueNow && waits_for_a_person(message)) continue;
            const Moment now = desk.setup().now();
            if (which == Which::DueNow && !message.tries.empty())
                if (const auto due = read_moment(message.tries.back().next_try); due && due->wall_ms > now.wall_ms) continue;
            const auto bytes = desk.journal().attachment(message.queued.bytes.id);
            if (!bytes) {
                // One damaged file does not hold up the others.
                unreadable = bytes.error();
                continue;
            }
            const std::string to = record::shown(message.queued.to);
            const auto attempt = send(desk.setup().mail_from, {to}, *bytes);
            record::MessageTried tried{.message = id,
                                       .state = kept(attempt.state),
                                       .answer = without(attempt.answer, to),
                                       .next_try = ""};
            switch (attempt.state) {
                case post::PostState::Sent: ++posted.sent; break;
                case post::PostState::Waiting: {
                    ++posted.waiting;
                    const auto byte = static_cast<unsigned char>(desk.setup().random(1).front());
                    const auto wait = post::wait_after(static_cast<int>(message.tries.size()) + 1, byte / 256.0);
                    tried.next_try = text_of(Moment{now.wall_ms + wait * 1000, now.zone_minutes});
                    break;
                }
                case post::PostState::Refused:
                case post::PostState::CannotSend: ++posted.stopped; break;
            }
            if (auto done = desk.record_try(job.number, std::move(tried)); !done) return tl::unexpected(done.error());
        }
        return {};
    };
    if (auto done = each_job_with(desk, [](const MessageView& message) { return !is_over(message); }, try_all); !done)
        return tl::unexpected(done.error());
    if (unreadable) return tl::unexpected(*unreadable);
    return posted;
}

Result<std::vector<SavedMessage>> messages_as_files(Desk& desk) {
    std::vector<SavedMessage> files;
    const auto save_all = [&](const record::JobState& job) -> Result<void> {
        int of_job = 0;
        for (const auto& [id, message] : oldest_first(job)) {
            if (job.erased) continue;
            auto bytes = desk.journal().attachment(message.queued.bytes.id);
            if (!bytes) return tl::unexpected(bytes.error());
            ++of_job;
            const std::string ending = of_job == 1 ? ".eml" : fmt::format("-{}.eml", of_job);
            files.push_back({post::file_name(job.number) + ending, std::move(*bytes)});
        }
        return {};
    };
    if (auto done = each_job_with(desk, [](const MessageView&) { return true; }, save_all); !done) return tl::unexpected(done.error());
    return files;
}

post::Message handover_message(const JobInHand& job, const Setup& setup, const IssuedReport& issued,
                               const std::string& pdf, const std::string& calendar, const std::string& card) {
    const auto now = setup.now();
    const std::string name = fact_text(job.state(), "customer.name");
    const auto say = language_of(job, setup.languages);
    std::string text = (name.empty() ? say.text("Dear customer,") : language::filled(say.text("Dear {name},"), {{"name", name}})) + "\n\n";
    if (issued.supplement > 0)
        text += say.text("what was still to be done at your solar water heater has been looked at again. The attached supplement\n"
                         "says what was found. Keep it with the first report.") + "\n\n";
    else
        text += issued.state == "restricted"
                ? say.text("your solar water heater is fitted. One thing is still to be done before it is fully handed over;\n"
                           "page one of the attached report says what, and what you must not use until then.") + "\n\n"
                : say.text("your solar water heater is fitted, checked and handed over. Page one of the attached report says\n"
                           "what was fitted, how hot the water may be, and when care is due.") + "\n\n";
    text += say.text("Hot water can scald. Do not change the mixing valve, and never block a relief pipe that drips or steams.") +
            "\n\n" +
            say.text("The calendar file holds the dates of care, the card whom to call. Page one also says how to check that\n"
                     "nobody altered the report.") + "\n\n";
    text += setup.company + "\n";
    if (!setup.company_contact.empty()) text += setup.company_contact + "\n";
    return {.from = setup.mail_from,
            .from_name = setup.company,
            .to = {fact_text(job.state(), "customer.email")},
            .to_name = name,
            .subject = issued.supplement > 0
                           ? language::filled(say.text("Supplement {number} to report {job} of your solar water heater"),
                                              {{"number", std::to_string(issued.supplement)}, {"job", job.state().number}})
                           : language::filled(say.text("Handover report {job} of your solar water heater"), {{"job", job.state().number}}),
            .text = text,
            .attachments = {{(issued.supplement > 0 ? fmt::format("supplement-{}-", issued.supplement) : std::string{"handover-"}) +
                                 job.state().number + ".pdf", "application/pdf", pdf},
                            {"care-" + job.state().number + ".ics", "text/calendar", calendar},
                            {"contact.vcf", "text/vcard", card}},
            .unix_seconds = now.wall_ms / 1000,
            .zone_minutes = now.zone_minutes,
            .id = fmt::format("{}.{}@witnessmark.example", post::file_name(job.state().number),
                              digest::sha256_hex(job.state().opened->id + std::to_string(job.state().entries)).substr(0, 16))};
}

}  // namespace wm::desk
