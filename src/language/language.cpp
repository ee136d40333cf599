#include "language/language.hpp"

#include <algorithm>
#include <array>
#include <boost/locale/gnu_gettext.hpp>
#include <exception>

namespace wm::language {

namespace {

namespace gettext = boost::locale::gnu_gettext;
using Messages = boost::locale::message_format<char>;

constexpr std::array short_months{
    marked("month, short", "Jan"), marked("month, short", "Feb"), marked("month, short", "Mar"),
    marked("month, short", "Apr"), marked("month, short", "May"), marked("month, short", "Jun"),
    marked("month, short", "Jul"), marked("month, short", "Aug"), marked("month, short", "Sep"),
    marked("month, short", "Oct"), marked("month, short", "Nov"), marked("month, short", "Dec")};
/// All other units are written alike everywhere.
constexpr std::array<std::string_view, 7> units_by_language{
    {marked("unit", "kWh"), marked("unit", "kg"), marked("unit", "L"), marked("unit", "m²"), marked("unit", "W"), marked("unit", "kPa"),
     marked("unit", "°C")}};

bool is_digit(char c) { return c >= '0' && c <= '9'; }

bool all_digits(std::string_view text) {
    for (const char c : text)
        if (!is_digit(c)) return false;
    return !text.empty();
}

/// What stands between two parts of a sample of the catalogue; "" where the sample is not laid out so.
std::string between(std::string_view sample, std::string_view left, std::string_view right) {
    const auto from = sample.find(left);
    if (from == std::string_view::npos) return {};
    const auto to = sample.find(right, from + left.size());
    return to == std::string_view::npos ? std::string{} : std::string{sample.substr(from + left.size(), to - from - left.size())};
}

std::string in_groups(std::string_view digits, const std::string& mark) {
    std::string text;
    for (std::size_t i = 0; i < digits.size(); ++i) {
        if (i > 0 && (digits.size() - i) % 3 == 0) text += mark;
        text += digits[i];
    }
    return text;
}

}  // namespace

std::string filled(std::string_view text, const Fillings& fillings) {
    std::string out;
    while (!text.empty()) {
        const auto open = text.find('{');
        const auto close = open == std::string_view::npos ? open : text.find('}', open);
        if (close == std::string_view::npos) break;
        const std::string_view name = text.substr(open + 1, close - open - 1);
        out += text.substr(0, open);
        const std::string* with = nullptr;
        for (const auto& [known, value] : fillings)
            if (known == name) with = &value;
        out += with != nullptr ? *with : std::string{text.substr(open, close - open + 1)};
        text.remove_prefix(close + 1);
    }
    return out + std::string{text};
}

Result<Language> Language::opened(const std::string& code, const std::string& mo) {
    Language language;
    language.source_ = Source::Catalogue;
    language.code_ = code;
    gettext::messages_info wanted;
    wanted.language = code.substr(0, code.find('-'));
    wanted.encoding = "UTF-8";
    wanted.locale_category = "LC_MESSAGES";
    wanted.domains.emplace_back("witnessmark");
    // The library looks for a file below a path and is given the bytes instead; the path only has to be there.
    wanted.paths = {"catalogue"};
    wanted.callback = [&mo](const std::string&, const std::string&) { return std::vector<char>{mo.begin(), mo.end()}; };
    try {
        auto* messages = gettext::create_messages_facet<char>(wanted);
        if (messages == nullptr) throw std::runtime_error{"no messages in it"};
        language.catalogue_ = std::locale{std::locale::classic(), messages};
    } catch (const std::exception& trouble) {
        return refused({.what = std::string{"The catalogue of this language cannot be read ("} + trouble.what() + ").",
                        .where = "language " + code,
                        .what_to_do = "Install the program again.",
                        .kind = ProblemKind::Unreadable});
    }
    return language;
}

Language Language::by_rule(const std::string& code, Rule rule) {
    Language language;
    language.source_ = Source::Rule;
    language.code_ = code;
    language.rule_ = std::move(rule);
    return language;
}

std::string Language::text(const char* msgid) const { return text(nullptr, msgid); }

std::string Language::text(const char* context, const char* msgid) const {
    if (source_ == Source::Rule) return rule_(msgid);
    if (source_ == Source::English || *msgid == '\0') return msgid;
    const char* found = std::use_facet<Messages>(catalogue_).get(0, context, msgid);
    return found == nullptr ? msgid : found;
}

std::string Language::counted(const char* singular, const char* plural, long number) const {
    const char* english = number == 1 ? singular : plural;
    if (source_ == Source::Rule) return rule_(english);
    if (source_ == Source::English) return english;
    const char* found = std::use_facet<Messages>(catalogue_).get(0, nullptr, singular, static_cast<int>(number));
    return found == nullptr ? english : found;
}

std::string Language::date(std::string_view iso) const {
    if (is_english() || iso.size() != 10 || iso[4] != '-' || iso[7] != '-' || !all_digits(iso.substr(0, 4)) ||
        !all_digits(iso.substr(5, 2)) || !all_digits(iso.substr(8, 2)))
        return std::string{iso};
    const auto month = static_cast<std::size_t>((iso[5] - '0') * 10 + (iso[6] - '0'));
    if (month < 1 || month > short_months.size()) return std::string{iso};
    return filled(text("date", "{year}-{month}-{day}"),
                  {{"year", std::string{iso.substr(0, 4)}},
                   {"month", std::string{iso.substr(5, 2)}},
                   {"day", std::string{iso.substr(8, 2)}},
                   {"d", std::string{iso.substr(iso[8] == '0' ? 9 : 8, iso[8] == '0' ? 1 : 2)}},
                   {"name", text("month, short", short_months[month - 1])}});
}

std::string Language::number(std::string_view printed) const {
    if (is_english()) return std::string{printed};
    // Two numbers as this language writes them show its marks, and whether four digits stand in groups.
    const std::string sample = text("number", "1234.5 12345.6");
    const std::string tens = sample.substr(std::min(sample.size(), sample.rfind("12")));
    const std::string decimal = between(tens, "345", "6");
    const std::string group = between(tens, "12", "345");
    const std::size_t least = between(sample, "1", "234").empty() ? 5 : 4;
    std::string out;
    while (!printed.empty()) {
        std::size_t length = 0;
        while (length < printed.size() && is_digit(printed[length])) ++length;
        if (length == 0) {
            out += printed.front();
            printed.remove_prefix(1);
            continue;
        }
        const std::string_view whole = printed.substr(0, length);
        out += length < least ? std::string{whole} : in_groups(whole, group);
        printed.remove_prefix(length);
        if (printed.size() < 2 || printed[0] != '.' || !is_digit(printed[1])) continue;
        for (length = 1; length < printed.size() && is_digit(printed[length]);) ++length;
        out += decimal.empty() ? "." : decimal;
        out += printed.substr(1, length - 1);
        printed.remove_prefix(length);
    }
    return out;
}

std::string Language::amount(std::string_view printed) const {
    if (is_english()) return std::string{printed};
    const auto blank = printed.find(' ');
    const std::string_view front = printed.substr(0, blank);
    if (front.find_first_not_of("0123456789.-") != std::string_view::npos || front.empty()) return std::string{printed};
    if (blank == std::string_view::npos) return number(front);
    return number(front) + " " + unit(printed.substr(blank + 1));
}

std::string Language::unit(std::string_view symbol) const {
    for (const std::string_view known : units_by_language)
        if (known == symbol) return text("unit", known.data());
    return std::string{symbol};
}

}  // namespace wm::language
