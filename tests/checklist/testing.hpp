// Builders for the tests of this room: the published library, small files, small houses.
#pragma once

#include <doctest/doctest.h>

#include <fstream>
#include <initializer_list>
#include <sstream>
#include <string>
#include <string_view>

#include "checklist/facts.hpp"
#include "checklist/lint.hpp"
#include "checklist/loader.hpp"
#include "checklist/model.hpp"

namespace wm::checklist::testing {

inline std::string published(std::string_view file) {
    std::ifstream in{std::string{WM_SOURCE_DIR} + "/checklists/" + std::string{file},
                     std::ios::binary};
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

/// Cautions and instruments as published, and the checklists asked for.
inline Library library_with(std::initializer_list<std::string_view> checklists = {}) {
    Library library;
    REQUIRE(load_cautions(library, published("cautions.toml"), "cautions.toml"));
    REQUIRE(load_instruments(library, published("instruments.toml"), "instruments.toml"));
    for (const auto file : checklists)
        library.checklists.push_back(read_checklist(published(file), file).checklist);
    return library;
}

inline Facts facts_with(
    std::initializer_list<std::pair<std::string_view, std::string_view>> values) {
    Facts facts;
    for (const auto& [key, text] : values) {
        auto value = read_fact(key, text);
        REQUIRE_MESSAGE(value, key);
        facts.set(*std::move(value));
    }
    return facts;
}

}  // namespace wm::checklist::testing
