// Reading the keys of one table of a document, noting what is missing, wrong or unknown.
#pragma once

#include <initializer_list>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "checklist/document.hpp"
#include "checklist/expression.hpp"
#include "checklist/findings.hpp"
#include "units/unit.hpp"

namespace wm::checklist {

/// `whose` begins the messages: "the check \"anchor-torque\"". Every key that is asked for counts
/// as known; `finish` reports the rest with the nearest of those.
class TableReader {
public:
    TableReader(const Item& table, std::string whose, Findings& findings)
        : table_{table}, whose_{std::move(whose)}, findings_{findings} {}

    [[nodiscard]] std::string text(std::string_view key);         ///< "" if absent
    [[nodiscard]] std::string needed_text(std::string_view key);  ///< absent or empty is reported
    [[nodiscard]] std::optional<std::string> text_if(std::string_view key);
    [[nodiscard]] bool flag(std::string_view key);
    [[nodiscard]] std::optional<int> whole(std::string_view key);
    [[nodiscard]] std::optional<double> number(std::string_view key);
    [[nodiscard]] std::string day(std::string_view key);
    [[nodiscard]] std::vector<std::string> texts(std::string_view key);
    [[nodiscard]] std::optional<units::Unit> unit(std::string_view key);
    [[nodiscard]] std::optional<Expression> expression(std::string_view key);
    [[nodiscard]] std::vector<Expression> expressions(std::string_view key);
    [[nodiscard]] std::map<std::string, std::string> words_by_name(std::string_view key);
    [[nodiscard]] const Item* table(std::string_view key);
    [[nodiscard]] std::vector<const Item*> tables(std::string_view key);  ///< [[key]]

    [[nodiscard]] const Item* find(std::string_view key);
    [[nodiscard]] Position at(std::string_view key) const;  ///< of the value, else of the table
    void error(std::string_view key, std::string what, std::string what_to_do);
    [[nodiscard]] const std::string& whose() const { return whose_; }
    [[nodiscard]] Findings& findings() { return findings_; }
    /// Keys that nobody asked for.
    void finish();

private:
    const Item* of_type(std::string_view key, std::initializer_list<ItemType> types,
                        std::string_view wanted);
    std::optional<Expression> parsed(const Item& item, std::string_view key);

    const Item& table_;
    std::string whose_;
    Findings& findings_;
    std::set<std::string, std::less<>> asked_;
};

}  // namespace wm::checklist
