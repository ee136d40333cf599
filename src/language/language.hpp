// The words of one language: translations with their plurals, and how it writes dates, numbers and units.
//
// What stands in the code is English and is the key. Catalogues are those of GNU gettext; a text holds names in braces,
// "{day}", which filled() replaces, so that a translator may move them. Nothing here belongs to the process: a report in
// Greek and one in English are made side by side, and the locale of the machine does not matter.
#pragma once

#include <functional>
#include <locale>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "problem/result.hpp"

namespace wm::language {

/// Marks a text of a table for the catalogues; it is looked up where it is used.
[[nodiscard]] constexpr const char* marked(const char* msgid) { return msgid; }
[[nodiscard]] constexpr const char* marked(const char* /*context*/, const char* msgid) { return msgid; }

using Fillings = std::vector<std::pair<std::string_view, std::string>>;

/// `text` with each {name} replaced. A filling is never searched for names again; a name that is not known stays.
[[nodiscard]] std::string filled(std::string_view text, const Fillings& fillings);

class Language {
public:
    /// English as it stands in the code.
    Language() = default;

    /// A catalogue: the bytes of an .mo file in UTF-8. `code` is that of BCP 47, "de". Unreadable if the bytes are none.
    [[nodiscard]] static Result<Language> opened(const std::string& code, const std::string& mo);

    /// A language that is made of English by a rule, so that a test sees which texts were looked up.
    using Rule = std::function<std::string(std::string_view)>;
    [[nodiscard]] static Language by_rule(const std::string& code, Rule rule);

    /// "en", "de": for the languages of a page and a file.
    [[nodiscard]] const std::string& code() const { return code_; }
    [[nodiscard]] bool is_english() const { return source_ == Source::English; }

    /// The translation, or `msgid` where there is none.
    [[nodiscard]] std::string text(const char* msgid) const;
    [[nodiscard]] std::string text(const char* context, const char* msgid) const;
    /// By the plural rule of the catalogue. The number itself is filled in afterwards.
    [[nodiscard]] std::string counted(const char* singular, const char* plural, long number) const;

    /// "2027-03-04" as people write it in a table: "04.03.2027", "4 mar 2027". English stays as it is, and so does what is no day.
    [[nodiscard]] std::string date(std::string_view iso) const;
    /// A number as `units` prints it, with this language's decimal mark and groups of thousands.
    [[nodiscard]] std::string number(std::string_view printed) const;
    /// "46.4 °C": number and unit behind a blank; without a number in front it stays as it is.
    [[nodiscard]] std::string amount(std::string_view printed) const;
    [[nodiscard]] std::string unit(std::string_view symbol) const;

private:
    enum class Source { English, Catalogue, Rule };

    Source source_ = Source::English;
    std::string code_ = "en";
    std::locale catalogue_ = std::locale::classic();  ///< holds the messages and nothing else
    Rule rule_;
};

}  // namespace wm::language
