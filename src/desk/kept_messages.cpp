#include "desk/kept_messages.hpp"

#include <array>

#include "digest/document.hpp"

namespace wm::desk {

namespace {

using digest::Document;

// In the order in which they are kept; the job stands once, before them.
constexpr std::array texts = {&MessageView::message, &MessageView::to,       &MessageView::subject,    &MessageView::state,
                              &MessageView::state_words, &MessageView::next_try, &MessageView::last_answer};

std::optional<MessageView> message_of(const Document& from, const std::string& job) {
    const auto* fields = from.items();
    if (fields == nullptr || fields->size() != texts.size() + 1) return std::nullopt;
    MessageView view;
    view.job = job;
    for (std::size_t i = 0; i < texts.size(); ++i) {
        const auto* text = (*fields)[i].text();
        if (text == nullptr) return std::nullopt;
        view.*texts[i] = *text;
    }
    const auto* tries = fields->back().integer();
    if (tries == nullptr || *tries < 0 || *tries > 1'000'000) return std::nullopt;
    view.tries = static_cast<int>(*tries);
    return view;
}

}  // namespace

std::optional<std::string> text_of(const KeptOutbox& outbox) {
    Document::Array jobs;
    for (const auto& [number, kept] : outbox) {
        Document::Array job;
        job.emplace_back(number);
        job.emplace_back(kept.last_hash);
        for (const auto& message : kept.messages) {
            Document::Array fields;
            for (const auto text : texts) fields.emplace_back(message.*text);
            fields.emplace_back(std::int64_t{message.tries});
            job.emplace_back(std::move(fields));
        }
        jobs.emplace_back(std::move(job));
    }
    auto text = digest::canonical_text(Document{std::move(jobs)});
    if (!text) return std::nullopt;
    return std::move(*text);
}

std::optional<KeptOutbox> read_outbox(std::string_view text) {
    const auto document = digest::read_canonical(text, "outbox");
    if (!document || document->items() == nullptr) return std::nullopt;
    KeptOutbox outbox;
    for (const auto& each : *document->items()) {
        const auto* job = each.items();
        if (job == nullptr || job->size() < 2 || (*job)[0].text() == nullptr || (*job)[1].text() == nullptr) return std::nullopt;
        const std::string& number = *(*job)[0].text();
        KeptMessages kept{*(*job)[1].text(), {}};
        for (std::size_t i = 2; i < job->size(); ++i) {
            auto message = message_of((*job)[i], number);
            if (!message) return std::nullopt;
            kept.messages.push_back(std::move(*message));
        }
        outbox.emplace_hint(outbox.end(), number, std::move(kept));
    }
    return outbox;
}

}  // namespace wm::desk
