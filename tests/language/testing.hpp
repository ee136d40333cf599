// Catalogues and a pseudo-language, made for tests.
#pragma once

#include <algorithm>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "language/language.hpp"

namespace wm::language::testing {

/// The bytes of an .mo file of Ukrainian plural rules: pairs of original and translation, a context before \4, forms
/// parted by \0. Source of the layout: GNU gettext manual 0.21, "The Format of GNU MO Files".
inline std::string mo_of(std::vector<std::pair<std::string, std::string>> texts) {
    texts.emplace_back("",
                       "Content-Type: text/plain; charset=UTF-8\n"
                       "Plural-Forms: nplurals=3; plural=n%10==1 && n%100!=11 ? 0 : n%10>=2 && n%10<=4 && (n%100<12 || n%100>14) ? 1 : 2;\n");
    std::sort(texts.begin(), texts.end());
    std::string file;
    const auto number = [&file](std::size_t value) {
        for (int byte = 0; byte < 4; ++byte) file += static_cast<char>((static_cast<std::uint32_t>(value) >> (8 * byte)) & 0xffu);
    };
    const std::size_t count = texts.size();
    const std::size_t originals = 28;
    const std::size_t translations = originals + 8 * count;
    number(0x950412de);
    number(0);
    number(count);
    number(originals);
    number(translations);
    number(0);
    number(0);
    std::size_t at = translations + 8 * count;
    for (const auto& text : texts) {
        number(text.first.size());
        number(at);
        at += text.first.size() + 1;
    }
    for (const auto& text : texts) {
        number(text.second.size());
        number(at);
        at += text.second.size() + 1;
    }
    for (const auto& text : texts) file += text.first + '\0';
    for (const auto& text : texts) file += text.second + '\0';
    return file;
}

/// Every letter of English in another dress, 40 % longer, in brackets: a text that was not looked up shows by its plain
/// letters. Names in braces stay.
inline Language pseudo_language() {
    return Language::by_rule("en-XA", [](std::string_view english) {
        static const std::string dress[] = {"á", "б", "ç", "ď", "é", "ф", "ğ", "ĥ", "í", "ĵ", "ķ", "ĺ", "м",
                                            "ñ", "ó", "п", "я", "ŕ", "š", "ť", "ú", "в", "ŵ", "ж", "ý", "ž"};
        std::string text = "[";
        bool name = false;
        for (const char c : english) {
            if (c == '{') name = true;
            const char small = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
            if (!name && small >= 'a' && small <= 'z') text += dress[small - 'a'];
            else text += c;
            if (c == '}') name = false;
        }
        // In syllables, so that it wraps as words do.
        for (std::size_t more = 0; more < english.size() * 2 / 5; ++more) text += more % 7 == 0 && english.size() > 12 ? " " : "ö";
        return text + "]";
    });
}

}  // namespace wm::language::testing
