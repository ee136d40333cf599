// Reading the keys of one table.
#include "checklist/table_reader.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "checklist/words.hpp"
#include "measure/instrument.hpp"

namespace wm::checklist {

const Item* TableReader::find(std::string_view key) {
    asked_.emplace(key);
    return table_.find(key);
}

Position TableReader::at(std::string_view key) const {
    const auto* item = table_.find(key);
    return item == nullptr ? table_.at : item->at;
}

void TableReader::error(std::string_view key, std::string what, std::string what_to_do) {
    findings_.error(at(key), std::move(what), std::move(what_to_do));
}

const Item* TableReader::of_type(std::string_view key, std::initializer_list<ItemType> types,
                                 std::string_view wanted) {
    const auto* item = find(key);
    if (item == nullptr) return nullptr;
    if (std::find(types.begin(), types.end(), item->type) != types.end()) return item;
    error(key, fmt::format("{} of {} is {}, not {}", key, whose_, in_words(item->type), wanted),
          fmt::format("Write {} as {}.", key, wanted));
    return nullptr;
}

std::optional<std::string> TableReader::text_if(std::string_view key) {
    const auto* item = of_type(key, {ItemType::Text}, "a text in quotes");
    return item == nullptr ? std::nullopt : std::optional{item->text};
}

std::string TableReader::text(std::string_view key) {
    return text_if(key).value_or("");
}

std::string TableReader::needed_text(std::string_view key) {
    const auto found = text_if(key);
    if (!found && table_.find(key) == nullptr) {
        error(key, fmt::format("{} has no {}", whose_, key), fmt::format("Add {} = \"…\".", key));
    } else if (found && trimmed(*found).empty()) {
        error(key, fmt::format("{} of {} is empty", key, whose_),
              "Write what a person has to read there.");
    }
    return found.value_or("");
}

bool TableReader::flag(std::string_view key) {
    const auto* item = of_type(key, {ItemType::YesNo}, "true or false");
    return item != nullptr && item->yes;
}

std::optional<int> TableReader::whole(std::string_view key) {
    const auto* item = of_type(key, {ItemType::Whole}, "a whole number");
    if (item == nullptr) return std::nullopt;
    constexpr double most = 1'000'000.0;
    if (item->number < 0.0 || item->number > most) {
        error(key, fmt::format("{} of {} is {}", key, whose_, item->text),
              "Give a whole number from 0 to 1000000.");
        return std::nullopt;
    }
    return static_cast<int>(item->number);
}

std::optional<double> TableReader::number(std::string_view key) {
    const auto* item = of_type(key, {ItemType::Number, ItemType::Whole}, "a number");
    return item == nullptr ? std::nullopt : std::optional{item->number};
}

std::string TableReader::day(std::string_view key) {
    const auto* item = of_type(key, {ItemType::Date, ItemType::Text}, "a date");
    if (item == nullptr) return "";
    if (measure::is_iso_day(item->text)) return item->text;
    error(key, fmt::format("{} of {} is \"{}\", no day of the calendar", key, whose_, item->text),
          "Write year, month and day, for example 2027-03-04.");
    return "";
}

std::vector<std::string> TableReader::texts(std::string_view key) {
    const auto* item = of_type(key, {ItemType::List}, "a list of texts");
    std::vector<std::string> texts;
    if (item == nullptr) return texts;
    for (const auto& inner : item->items) {
        if (inner.type != ItemType::Text) {
            findings_.error(
                inner.at,
                fmt::format("{} of {} holds {}, not only texts", key, whose_, in_words(inner.type)),
                "Put each item in quotes.");
            continue;
        }
        texts.push_back(inner.text);
    }
    return texts;
}

std::optional<units::Unit> TableReader::unit(std::string_view key) {
    const auto name = text_if(key);
    if (!name) return std::nullopt;
    const auto unit = units::unit_named(*name);
    if (!unit) {
        error(key,
              fmt::format("{} of {} is \"{}\", which is not a unit this tool knows", key, whose_,
                          *name),
              "Use a unit of the list in the guide, for example kPa, °C, mm or N·m.");
    }
    return unit;
}

std::optional<Expression> TableReader::parsed(const Item& item, std::string_view key) {
    auto expression = Expression::parse(item.text, item.at);
    if (expression) return *std::move(expression);
    findings_.error_in(item.at, item.text, fmt::format("{} of {}", key, whose_),
                       expression.error());
    return std::nullopt;
}

std::optional<Expression> TableReader::expression(std::string_view key) {
    const auto* item = of_type(key, {ItemType::Text}, "an expression in quotes");
    return item == nullptr ? std::nullopt : parsed(*item, key);
}

std::vector<Expression> TableReader::expressions(std::string_view key) {
    const auto* list = of_type(key, {ItemType::List}, "a list of expressions in quotes");
    std::vector<Expression> expressions;
    if (list == nullptr) return expressions;
    for (const auto& item : list->items) {
        if (item.type != ItemType::Text) {
            findings_.error(item.at,
                            fmt::format("{} of {} holds {}, not only expressions", key, whose_,
                                        in_words(item.type)),
                            "Put each expression in quotes.");
        } else if (auto one = parsed(item, key)) {
            expressions.push_back(*std::move(one));
        }
    }
    return expressions;
}

std::map<std::string, std::string> TableReader::words_by_name(std::string_view key) {
    const auto* table = of_type(key, {ItemType::Table}, "a table of names and texts");
    std::map<std::string, std::string> words;
    if (table == nullptr) return words;
    for (const auto& [name, item] : table->entries) {
        if (item.type != ItemType::Text && item.type != ItemType::YesNo) {
            findings_.error(
                item.at,
                fmt::format("{} of {} is {}, not a text", name, whose_, in_words(item.type)),
                "Write it in quotes, with its unit if it has one.");
            continue;
        }
        words[name] = item.text;
    }
    return words;
}

const Item* TableReader::table(std::string_view key) {
    return of_type(key, {ItemType::Table}, "a table");
}

std::vector<const Item*> TableReader::tables(std::string_view key) {
    const auto* list = of_type(key, {ItemType::List}, "a list of tables");
    std::vector<const Item*> tables;
    if (list == nullptr) return tables;
    for (const auto& item : list->items) {
        if (item.type == ItemType::Table)
            tables.push_back(&item);
        else
            findings_.error(
                item.at,
                fmt::format("{} of {} holds {}, not only tables", key, whose_, in_words(item.type)),
                fmt::format("Write each as [[{}]].", key));
    }
    return tables;
}

void TableReader::finish() {
    const std::vector<std::string> known{asked_.begin(), asked_.end()};
    for (const auto& [key, item] : table_.entries) {
        if (asked_.contains(key)) continue;
        if (findings_.is_full()) return;
        const auto near = nearest(key, known);
        findings_.error(item.at,
                        fmt::format("{} has a key \"{}\" that means nothing here", whose_, key),
                        near ? fmt::format("Did you mean {}?", *near)
                             : "Take it out, or look for its name in the guide.");
    }
}

}  // namespace wm::checklist
