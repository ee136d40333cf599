#include "handover/page_one_words.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace wm::handover {

namespace {

bool holds_letter_or_digit(std::string_view word) {
    return std::any_of(word.begin(), word.end(), [](char c) {
        const auto byte = static_cast<unsigned char>(c);
        return byte >= 0x80 || (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') ||
               (c >= 'A' && c <= 'Z');
    });
}

std::vector<std::string_view> words_of(std::string_view text) {
    std::vector<std::string_view> words;
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t start = text.find_first_not_of(" \t\r\n", at);
        if (start == std::string_view::npos) break;
        const std::size_t end = std::min(text.find_first_of(" \t\r\n", start), text.size());
        const std::string_view word = text.substr(start, end - start);
        if (holds_letter_or_digit(word)) words.push_back(word);
        at = end;
    }
    return words;
}

std::string cut_to(std::string_view text, int most) {
    const auto words = words_of(text);
    if (static_cast<int>(words.size()) <= most) return std::string{text};
    const std::string_view last = words[static_cast<std::size_t>(most) - 1];
    const auto length = static_cast<std::size_t>(last.data() + last.size() - text.data());
    return std::string{text.substr(0, length)} + "…";
}

std::string headline_of(HandoverState state) {
    switch (state) {
        case HandoverState::Full:
            return "Handed over in full";
        case HandoverState::Restricted:
            return "Handed over with a restriction";
        case HandoverState::NotHandedOver:
            return "Not handed over";
    }
    return {};
}

std::vector<std::string> outcome_of(const PageOne& page) {
    std::vector<std::string> sentences;
    switch (page.state) {
        case HandoverState::Full:
            sentences = {"Your solar water heater is finished and ready for use.",
                         "Every safety check was made and conforms."};
            break;
        case HandoverState::Restricted:
            sentences = {"Your solar water heater is finished, but not all may be used."};
            break;
        case HandoverState::NotHandedOver:
            sentences = {"Your solar water heater is not ready.",
                         "Do not use it until the company hands it over."};
            break;
    }
    const std::size_t shown = std::min(page.restrictions.size(), most_restrictions_shown);
    for (std::size_t i = 0; i < shown; ++i) {
        sentences.push_back(cut_to(page.restrictions[i], most_sentence_words));
    }
    return sentences;
}

std::vector<std::string> hot_water_of(const PageOne& page) {
    if (page.state == HandoverState::NotHandedOver) return {"No hot water may be taken yet."};
    if (page.hottest_tap.empty()) {
        return {"The taps are not measured yet.", "Do not wash with hot water until they are."};
    }
    return {fmt::format("The hottest washing tap gave {}; at most {} is allowed.", page.hottest_tap,
                        page.hottest_allowed),
            "Test the water before you bathe a child."};
}

std::vector<std::string> never_of(const figures::PlantShape& plant) {
    std::vector<std::string> sentences;
    if (plant.feed == figures::FeedKind::Mains) {
        sentences.emplace_back("Never block the relief pipe; it may spit boiling water.");
    } else {
        sentences.emplace_back("Never close the open vent.");
    }
    sentences.emplace_back("Never set the heater below 60 °C; lukewarm water breeds germs.");
    if (plant.loop == figures::LoopKind::Indirect) {
        sentences.emplace_back("Never put water or car antifreeze into the collector loop.");
    } else {
        sentences.emplace_back("Never leave the set filled when frost is forecast.");
    }
    sentences.emplace_back("Never climb to the collector or open the heater yourself.");
    return sentences;
}

}  // namespace

std::string_view in_words(HandoverState state) {
    switch (state) {
        case HandoverState::Full:
            return "full";
        case HandoverState::Restricted:
            return "restricted";
        case HandoverState::NotHandedOver:
            return "not handed over";
    }
    return "";
}

PageOneWords page_one_words(const ReportInput& input) {
    PageOneWords words;
    words.headline = headline_of(input.page_one.state);
    words.outcome = outcome_of(input.page_one);
    words.restrictions = std::min(input.page_one.restrictions.size(), most_restrictions_shown);
    words.hot_water = hot_water_of(input.page_one);
    words.never = never_of(input.plant);
    words.checking = {"A PDF reader must show a valid seal on the file.",
                      "Its fingerprint must be the published one.",
                      "The square code holds the same facts, signed."};
    return words;
}

int count_words(std::string_view text) {
    return static_cast<int>(words_of(text).size());
}

}  // namespace wm::handover
