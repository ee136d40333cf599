#include "handover/glossary.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace wm::handover;

TEST_CASE("the glossary is in order, has no word twice and explains each in few words") {
    const auto terms = standard_glossary();
    CHECK(std::is_sorted(terms.begin(), terms.end(),
                         [](const auto& a, const auto& b) { return a.word < b.word; }));
    for (std::size_t i = 1; i < terms.size(); ++i) CHECK(terms[i].word != terms[i - 1].word);
    for (const auto& term : terms) CHECK(term.meaning.size() < 110);
}
