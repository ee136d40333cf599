#include "exchange/exchanged.hpp"

#include <algorithm>
#include <set>

#include "digest/document.hpp"
#include "store/files.hpp"

namespace wm::exchange {
namespace {

using digest::Document;
using record::Head;

std::filesystem::path file_of(const store::Journal& journal) {
    return journal.folder() / "exchanged.json";
}

std::string text_in(const Document& document, std::string_view name) {
    const Document* member = document.find(name);
    const std::string* text = member == nullptr ? nullptr : member->text();
    return text == nullptr ? std::string{} : *text;
}

struct Noted {
    std::string at;
    std::vector<Head> heads;
};

/// Nothing for a file that is missing or damaged: then everything counts as not exchanged.
Noted noted(const store::Journal& journal) {
    Noted found;
    const auto there = store::look_at_file(file_of(journal), journal.disk());
    if (!there || !*there) return found;
    const auto text = store::read_file(file_of(journal), journal.disk());
    if (!text) return found;
    const auto document = digest::read_canonical(*text, "exchanged.json");
    if (!document) return found;
    found.at = text_in(*document, "at");
    const Document* heads = document->find("heads");
    const Document::Array* list = heads == nullptr ? nullptr : heads->items();
    if (list == nullptr) return found;
    for (const Document& head : *list) {
        const Document* seq = head.find("seq");
        const std::int64_t* number = seq == nullptr ? nullptr : seq->integer();
        found.heads.push_back({text_in(head, "device"), number == nullptr ? 0 : *number, text_in(head, "hash")});
    }
    return found;
}

}  // namespace

Result<void> note_packed(const store::Journal& journal, const std::vector<Head>& heads, const std::string& at) {
    Document list = Document::array();
    for (const Head& head : heads)
        list.add(Document::object()
                     .set("device", Document{head.device})
                     .set("hash", Document{head.hash})
                     .set("seq", Document{head.seq}));
    const auto text = digest::canonical_text(Document::object().set("at", Document{at}).set("heads", std::move(list)));
    if (!text) return refused(text.error());
    return store::write_file(file_of(journal), *text, journal.disk());
}

Result<NotExchanged> not_exchanged(const store::Journal& journal) {
    const Noted packed = noted(journal);
    NotExchanged found{.entries = 0, .since = {}, .jobs = {}, .last_bundle = packed.at, .not_confirmed = 0};
    // A head counts only if that very entry is here: after a restore the numbers may be others'.
    std::int64_t packed_up_to = 0, confirmed_up_to = 0;
    const auto counts = [&](const Head& head, std::int64_t& up_to) -> Result<void> {
        if (head.device != journal.device() || head.seq <= up_to) return {};
        const auto here = journal.holds(head);
        if (!here) return refused(here.error());
        if (*here) up_to = head.seq;
        return {};
    };
    for (const Head& head : packed.heads)
        if (auto done = counts(head, packed_up_to); !done) return refused(done.error());
    const auto stream = journal.read_stream();
    if (!stream) return refused(stream.error());
    for (const record::Written& written : stream->entries) {
        const auto* received = std::get_if<record::Received>(&written.entry.body);
        if (received == nullptr || written.entry.device == journal.device()) continue;
        for (const Head& head : received->heads)
            if (auto done = counts(head, confirmed_up_to); !done) return refused(done.error());
    }
    const auto chain = journal.read_chain(journal.device(), 1);
    if (!chain) return refused(chain.error());
    std::set<std::string> jobs;
    for (const record::Written& written : chain->entries) {
        if (written.entry.seq > confirmed_up_to) ++found.not_confirmed;
        if (written.entry.seq <= packed_up_to) continue;
        ++found.entries;
        if (found.since.empty()) found.since = written.entry.time;
        if (!written.entry.job.empty()) jobs.insert(written.entry.job);
    }
    found.jobs.assign(jobs.begin(), jobs.end());
    return found;
}

}  // namespace wm::exchange
