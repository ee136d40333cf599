#include "checklist/differences.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>

#include "checklist/document.hpp"

namespace wm::checklist {

namespace {

constexpr std::array<std::string_view, 11> wording = {"title", "question", "why", "how", "pitfall", "on_fail",
                                                      "example", "source", "stage", "caution", "evidence"};

/// What a key is called where people read of it; others are called as they are written.
std::string called(std::string_view key) {
    static const std::map<std::string_view, std::string_view> names = {
        {"on_fail", "what to do when it fails"}, {"why", "why it matters"}, {"how", "how it is measured"}, {"accept", "accepted answers"},
        {"refuse", "refused answers"}, {"accept_when", "answers accepted on a condition"}, {"applies", "when it applies"},
        {"after", "hold points before it"}, {"core", "in the fast run"}, {"hold", "hold point"}, {"places_from", "how many places"},
        {"valid_when", "when a reading counts"}, {"concession_when", "when a concession is possible"}, {"defer_days", "days it may wait"},
        {"defer_reasons", "reasons to put it off"}, {"photo_of", "what the photo shows"}, {"works_out", "what is worked out from it"}, {"said", "what is said with the reading"}};
    const auto found = names.find(key);
    std::string words{found == names.end() ? key : found->second};
    std::replace(words.begin(), words.end(), '_', ' ');
    return words;
}

std::string rendered(const Item& item) {
    std::string text;
    switch (item.type) {
        case ItemType::Text:
            return "“" + item.text + "”";
        case ItemType::List:
            for (const auto& each : item.items) text += (text.empty() ? "" : ", ") + rendered(each);
            return text.empty() ? "nothing" : text;
        case ItemType::Table:
            for (const auto& [key, value] : item.entries) text += fmt::format("{}{} {}", text.empty() ? "" : ", ", called(key), rendered(value));
            return text.empty() ? "nothing" : text;
        case ItemType::YesNo:
        case ItemType::Number:
        case ItemType::Whole:
        case ItemType::Date:
        case ItemType::Other:
            return item.text;
    }
    return item.text;
}

bool is_list_of_tables(const Item& item) {
    return item.type == ItemType::List && !item.items.empty() &&
           std::all_of(item.items.begin(), item.items.end(), [](const Item& each) { return each.type == ItemType::Table; });
}

std::string text_under(const Item& table, std::string_view key) {
    const Item* found = table.find(key);
    return found == nullptr ? std::string{} : found->text;
}

/// What tells the tables of a list apart; by their place where they have no name.
std::string name_of(const Item& table, std::size_t place) {
    for (const auto* key : {"id", "name", "key"})
        if (auto name = text_under(table, key); !name.empty()) return name;
    return std::to_string(place + 1);
}

const Item* named(const Item& list, std::string_view name) {
    for (std::size_t i = 0; i < list.items.size(); ++i)
        if (name_of(list.items[i], i) == name) return &list.items[i];
    return nullptr;
}

std::string capital(std::string words) {
    if (!words.empty() && words.front() >= 'a' && words.front() <= 'z') words.front() = static_cast<char>(words.front() - 'a' + 'A');
    return words;
}

class Comparing {
public:
    explicit Comparing(std::vector<Difference>& found) : found_{found} {}

    /// `where` stands before each key: "part “tied”, ".
    void tables(const Item& before, const Item& after, const std::string& check, const std::string& where, bool decides) {
        const bool outermost = depth_++ == 0;
        const auto one = [&](const std::string& key, const Item* was, const Item* is) {
            if (outermost) key_ = key;
            value(key, was, is, check, where, decides);
        };
        for (const auto& [key, is] : after.entries) one(key, before.find(key), &is);
        for (const auto& [key, was] : before.entries)
            if (after.find(key) == nullptr) one(key, &was, nullptr);
        if (--depth_ == 0) key_.clear();
    }

    void value(std::string_view key, const Item* was, const Item* is, const std::string& check, const std::string& where, bool decides) {
        const bool counts = decides && !is_wording(key);
        if ((was != nullptr && is_list_of_tables(*was)) || (is != nullptr && is_list_of_tables(*is)))
            return lists(key, was, is, check, where, counts);
        if (was != nullptr && is != nullptr && was->type == ItemType::Table && is->type == ItemType::Table)
            return tables(*was, *is, check, where + called(key) + ", ", counts);
        const std::string before = was == nullptr ? std::string{} : rendered(*was);
        const std::string after = is == nullptr ? std::string{} : rendered(*is);
        if (was != nullptr && is != nullptr && before == after) return;
        const std::string what = capital(where + called(key));
        if (was == nullptr) tell(check, fmt::format("{}: new, {}.", what, after), counts);
        else if (is == nullptr) tell(check, fmt::format("{}: taken out, was {}.", what, before), counts);
        else tell(check, fmt::format("{}: was {}, is {}.", what, before, after), counts);
    }

    void lists(std::string_view key, const Item* was, const Item* is, const std::string& check, const std::string& where, bool decides) {
        static const Item none;
        const Item& before = was == nullptr ? none : *was;
        const Item& after = is == nullptr ? none : *is;
        for (std::size_t i = 0; i < after.items.size(); ++i) {
            const std::string name = name_of(after.items[i], i);
            const Item* old = named(before, name);
            const std::string what = fmt::format("{}{} “{}”", where, called(key), name);
            if (old == nullptr) tell(check, capital(what) + ": new.", decides);
            else tables(*old, after.items[i], check, what + ", ", decides);
        }
        for (std::size_t i = 0; i < before.items.size(); ++i)
            if (const auto name = name_of(before.items[i], i); named(after, name) == nullptr)
                tell(check, capital(fmt::format("{}{} “{}”", where, called(key), name)) + ": taken out.", decides);
    }

    void tell(std::string check, std::string words, bool decides) { found_.push_back({std::move(check), key_, std::move(words), decides}); }

private:
    std::vector<Difference>& found_;
    std::string key_;  ///< of the outermost table, under which all of it stands
    int depth_ = 0;
};

const Item& checks_of(const Item& list) {
    static const Item none;
    const Item* checks = list.find("check");
    return checks == nullptr ? none : *checks;
}

std::vector<std::string> common_order(const Item& of, const Item& other) {
    std::vector<std::string> ids;
    for (const auto& check : of.items)
        if (auto id = text_under(check, "id"); named(other, id) != nullptr) ids.push_back(std::move(id));
    return ids;
}

}  // namespace

bool is_wording(std::string_view key) { return std::find(wording.begin(), wording.end(), key) != wording.end(); }

Result<std::vector<Difference>> differences(std::string_view before, std::string_view after, std::string_view file_name) {
    const auto was = read_document(before, file_name);
    if (!was) return tl::unexpected(was.error());
    const auto is = read_document(after, file_name);
    if (!is) return tl::unexpected(is.error());
    std::vector<Difference> found;
    Comparing comparing{found};
    const auto of_the_list = [](const Item& list) {
        Item rest;
        rest.type = ItemType::Table;
        for (const auto& [key, value] : list.entries) {
            if (key != "check" && key != "checklist") rest.entries.emplace_back(key, value);
        }
        return rest;
    };
    const auto head_of = [](const Item& list) {
        Item head;
        if (const Item* head_table = list.find("checklist")) head = *head_table;
        std::erase_if(head.entries, [](const auto& entry) { return entry.first == "version" || entry.first == "date" || entry.first == "reason"; });
        return head;
    };
    comparing.tables(head_of(*was), head_of(*is), "", "checklist, ", true);
    comparing.tables(of_the_list(*was), of_the_list(*is), "", "", true);
    const Item& old_checks = checks_of(*was);
    const Item& new_checks = checks_of(*is);
    if (common_order(old_checks, new_checks) != common_order(new_checks, old_checks)) comparing.tell("", "The checks stand in another order.", false);
    for (const auto& check : new_checks.items) {
        const std::string id = text_under(check, "id");
        if (const Item* old = named(old_checks, id)) comparing.tables(*old, check, id, "", true);
        else comparing.tell(id, fmt::format("New check: {}.", text_under(check, "title")), true);
    }
    for (const auto& check : old_checks.items)
        if (const auto id = text_under(check, "id"); named(new_checks, id) == nullptr)
            comparing.tell(id, fmt::format("Taken out: {}.", text_under(check, "title")), true);
    return found;
}

}  // namespace wm::checklist
