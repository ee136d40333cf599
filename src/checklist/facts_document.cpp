// Facts out of a document, and the facts file.
#include "checklist/facts_document.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "checklist/words.hpp"

namespace wm::checklist {
namespace {

using Texts = std::optional<std::string>;

// Whoever gets more than this wrong reads no further anyway.
constexpr std::size_t most_faults = 200;

// Lists and tables stand for several words: names, or a licence with its date.
Texts joined(const Item& item, std::string_view separator) {
    std::string text;
    const auto add = [&](const Item& part) {
        if (part.type == ItemType::List || part.type == ItemType::Table) return false;
        if (!text.empty()) text += separator;
        text += part.text;
        return true;
    };
    for (const auto& part : item.items)
        if (!add(part)) return std::nullopt;
    for (const auto& [key, part] : item.entries)
        if (!add(part)) return std::nullopt;
    return text;
}

// The text a value stands for as a fact of this type; nullopt if it is of another type.
Texts text_for(const FactSpec& spec, const Item& item) {
    const bool is_number = item.type == ItemType::Number || item.type == ItemType::Whole;
    const bool is_text = item.type == ItemType::Text;
    switch (spec.type) {
        case FactType::Number:
        case FactType::Integer:
            return is_number || is_text ? Texts{item.text} : std::nullopt;
        case FactType::Text:
            return is_text ? Texts{item.text} : std::nullopt;
        case FactType::Choice:
        case FactType::YesNo:
            return is_text || item.type == ItemType::YesNo ? Texts{item.text} : std::nullopt;
        case FactType::Date:
            return is_text || item.type == ItemType::Date ? Texts{item.text} : std::nullopt;
        case FactType::Licence:
            if (item.type == ItemType::List || item.type == ItemType::Table)
                return joined(item, " ");
            return is_text || item.type == ItemType::Date ? Texts{item.text} : std::nullopt;
        case FactType::Names:
            if (item.type == ItemType::List) return joined(item, ", ");
            return is_text ? Texts{item.text} : std::nullopt;
    }
    return std::nullopt;
}

std::string example_for(const FactSpec& spec) {
    switch (spec.type) {
        case FactType::Number:
        case FactType::Integer:
            return fmt::format("Give a number in {}, or a text with a unit.",
                               spec.unit.empty() ? std::string_view{"1"} : spec.unit);
        case FactType::Text:
            return "Put the text in quotes.";
        case FactType::Choice:
            return fmt::format("Give one of {}.", quoted(spec.choice_words()));
        case FactType::YesNo:
            return "Give true or false.";
        case FactType::Date:
            return "Give a date, for example 2027-03-04.";
        case FactType::Licence:
            return "Give its number and the day it runs out, for example \"P-12 2027-03-04\".";
        case FactType::Names:
            return "Give one name, or a list of names.";
    }
    return "";
}

class Collector {
public:
    FactsRead all(const Item& table) {
        walk(table, "");
        return std::move(read_);
    }

private:
    void walk(const Item& table, const std::string& prefix) {
        for (const auto& [key, item] : table.entries) {
            if (read_.faults.size() >= most_faults) return;
            const auto path = prefix.empty() ? key : prefix + "." + key;
            if (path == "inst") continue;
            const bool is_group = item.type == ItemType::Table && fact_named(path) == nullptr;
            if (is_group && !item.entries.empty())
                walk(item, path);
            else if (!is_group)
                take(path, item);
        }
    }

    void take(const std::string& key, const Item& item) {
        const auto* spec = fact_named(key);
        if (spec == nullptr) return complain_of_name(key, item);
        const auto text = text_for(*spec, item);
        if (!text) {
            read_.faults.push_back({item.at,
                                    fmt::format("{} is {}, but {} is {}.", key, in_words(item.type),
                                                spec->meaning, in_words(spec->type)),
                                    example_for(*spec)});
            return;
        }
        auto value = read_fact(key, *text);
        if (!value) {
            read_.faults.push_back({item.at, value.error().what, value.error().what_to_do});
            return;
        }
        value->at = item.at;
        read_.values.push_back(*std::move(value));
    }

    void complain_of_name(const std::string& key, const Item& item) {
        const auto near = nearest_fact(key);
        read_.faults.push_back(
            {item.at, fmt::format("There is no fact \"{}\".", key),
             near.empty() ? "Use a key of the list of facts in the guide, for example sys.tank_l."
                          : fmt::format("Did you mean {}?", near)});
    }

    FactsRead read_;
};

Problem problem_at(std::string_view file, Position at, std::string what, std::string what_to_do) {
    return {std::move(what), place_of(file, at), std::move(what_to_do), ProblemKind::Unreadable};
}

// One table of [[inst]].
class InstrumentReader {
public:
    InstrumentReader(const Item& table, std::string_view file) : table_{table}, file_{file} {}

    Result<InstrumentInUse> read() {
        for (const auto& [key, item] : table_.entries)
            if (auto problem = take(key, item)) return refused(*std::move(problem));
        if (auto problem = settle_error()) return refused(*std::move(problem));
        if (instrument_.card.id.empty() || instrument_.card.type.empty()) {
            return refused(problem_at(
                file_, table_.at, "An instrument has no id or no type.",
                "Give each [[inst]] an id and a type, for example type = \"torque wrench\"."));
        }
        return std::move(instrument_);
    }

private:
    std::optional<Problem> take(const std::string& key, const Item& item) {
        auto& card = instrument_.card;
        if (key == "preuse") return take_preuse(item);
        if (key == "cal_date") return take_day(card.calibrated_on, key, item);
        if (key == "cal_due") return take_day(card.calibration_due, key, item);
        const std::pair<std::string_view, std::string*> texts[] = {
            {"id", &card.id},
            {"type", &card.type},
            {"range", &instrument_.range},
            {"res", &card.resolution},
            {"u", &card.expanded_uncertainty},
            {"mpe", &error_},
            {"cert", &card.certificate},
            {"asfound", &card.as_found}};
        std::vector<std::string> known{"preuse", "cal_date", "cal_due"};
        for (const auto& [name, text] : texts) {
            known.emplace_back(name);
            if (name != key) continue;
            if (item.type == ItemType::List || item.type == ItemType::Table) {
                return problem_at(
                    file_, item.at,
                    fmt::format("inst.{} is {}, not a text.", key, in_words(item.type)),
                    "Put it in quotes, with its unit if it has one.");
            }
            *text = item.text;
            return std::nullopt;
        }
        const auto near = nearest(key, known);
        return problem_at(file_, item.at, fmt::format("An instrument has no \"{}\".", key),
                          near ? fmt::format("Did you mean {}?", *near)
                               : fmt::format("Its keys are {}.", listed(known)));
    }

    std::optional<Problem> settle_error() {
        if (error_.empty()) return std::nullopt;
        if (!instrument_.card.expanded_uncertainty.empty()) {
            return problem_at(file_, table_.at,
                              "An instrument has both a permissible error and an uncertainty.",
                              "Keep u if there is a calibration certificate, otherwise mpe.");
        }
        instrument_.card.expanded_uncertainty = std::string{permissible_error_mark} + error_;
        return std::nullopt;
    }

    std::optional<Problem> take_day(std::optional<std::string>& day, const std::string& key,
                                    const Item& item) const {
        if (!measure::is_iso_day(item.text)) {
            return problem_at(file_, item.at,
                              fmt::format("inst.{} is no day of the calendar.", key),
                              "Write year, month and day, for example 2027-03-04.");
        }
        day = item.text;
        return std::nullopt;
    }

    std::optional<Problem> take_preuse(const Item& item) {
        if (item.text == "yes" || item.text == "passed")
            instrument_.preuse = PreUse::Passed;
        else if (item.text == "no" || item.text == "failed")
            instrument_.preuse = PreUse::Failed;
        else
            return problem_at(file_, item.at, "inst.preuse is neither \"passed\" nor \"failed\".",
                              "Say whether the instrument passed its own check before use.");
        return std::nullopt;
    }

    const Item& table_;
    std::string_view file_;
    InstrumentInUse instrument_;
    std::string error_;  ///< largest permissible, as written
};

Result<std::vector<InstrumentInUse>> instruments_of(const Item& document, std::string_view file) {
    std::vector<InstrumentInUse> instruments;
    const auto* list = document.find("inst");
    if (list == nullptr) return instruments;
    const bool one_table = list->type == ItemType::Table;
    if (!one_table && list->type != ItemType::List) {
        return refused(problem_at(file, list->at, "inst is no list of instruments.",
                                  "Write each as [[inst]]."));
    }
    std::vector<const Item*> tables;
    if (one_table) tables.push_back(list);
    for (const auto& item : list->items) tables.push_back(&item);
    for (const auto* table : tables) {
        if (table->type != ItemType::Table)
            return refused(problem_at(file, table->at,
                                      "inst holds something that is no instrument.",
                                      "Write each as [[inst]]."));
        auto instrument = InstrumentReader{*table, file}.read();
        if (!instrument) return tl::unexpected(instrument.error());
        instruments.push_back(*std::move(instrument));
    }
    return instruments;
}

}  // namespace

FactsRead facts_of(const Item& table) {
    return Collector{}.all(table);
}

Result<FactsFile> load_facts(std::string_view text, std::string_view file_name) {
    const auto document = read_document(text, file_name);
    if (!document) return tl::unexpected(document.error());
    auto read = facts_of(*document);
    if (!read.faults.empty()) {
        auto& fault = read.faults.front();
        return refused(problem_at(file_name, fault.at, fault.what, fault.what_to_do));
    }
    FactsFile file;
    for (auto& value : read.values) {
        if (auto question = question_about(value)) file.questions.push_back(*std::move(question));
        file.facts.set(std::move(value));
    }
    auto instruments = instruments_of(*document, file_name);
    if (!instruments) return tl::unexpected(instruments.error());
    file.instruments = *std::move(instruments);
    return file;
}

}  // namespace wm::checklist
