// One [[check]] into the model.
#include "checklist/loader_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <utility>

#include "checklist/facts_document.hpp"
#include "checklist/table_reader.hpp"
#include "checklist/words.hpp"
#include "units/reading.hpp"

namespace wm::checklist {
namespace {

template <class T>
T one_of(TableReader& reader, std::string_view key,
         std::initializer_list<std::pair<std::string_view, T>> words, T otherwise) {
    const auto word = reader.text_if(key);
    if (!word) return otherwise;
    std::vector<std::string> names;
    for (const auto& [name, value] : words) {
        if (name == *word) return value;
        names.emplace_back(name);
    }
    reader.error(key, fmt::format("{} of {} is \"{}\"", key, reader.whose(), *word),
                 fmt::format("Use {}.", quoted(names)));
    return otherwise;
}

std::optional<PlausibleRange> plausible_of(TableReader& reader) {
    const auto* list = reader.find("plausible");
    if (list == nullptr) return std::nullopt;
    const auto is_number = [](const Item& item) {
        return item.type == ItemType::Number || item.type == ItemType::Whole;
    };
    const bool fits = list->type == ItemType::List && list->items.size() == 2 &&
                      is_number(list->items[0]) && is_number(list->items[1]) &&
                      list->items[0].number < list->items[1].number;
    if (!fits) {
        reader.error("plausible", fmt::format("plausible of {} is no range", reader.whose()),
                     "Write the lowest and the highest plausible reading, for example [0, 120].");
        return std::nullopt;
    }
    return PlausibleRange{list->items[0].number, list->items[1].number};
}

std::optional<units::Amount> time_of(TableReader& reader, std::string_view key) {
    const auto text = reader.text_if(key);
    if (!text) return std::nullopt;
    const auto time = units::read_amount(*text, *units::unit_named("min"), key);
    if (time) return time->amount();
    reader.error(key,
                 fmt::format("{} of {} is \"{}\", which is no time", key, reader.whose(), *text),
                 "Give a time, for example 10 min.");
    return std::nullopt;
}

OutsideCounts outside_of(TableReader& reader) {
    return one_of<OutsideCounts>(reader, "outside",
                                 {{"does not conform", OutsideCounts::DoesNotConform},
                                  {"inconclusive", OutsideCounts::Inconclusive}},
                                 OutsideCounts::DoesNotConform);
}

std::optional<Part> part_of(const Item& table, const std::string& check, Findings& findings) {
    const auto before = findings.count();
    Part part;
    part.at = table.at;
    const auto* name = table.find("name");
    TableReader reader{
        table, fmt::format("part \"{}\" of \"{}\"", name == nullptr ? "" : name->text, check),
        findings};
    part.name = reader.needed_text("name");
    part.kind = one_of<Kind>(reader, "kind",
                             {{"confirm", Kind::Confirm},
                              {"choice", Kind::Choice},
                              {"quantity", Kind::Quantity},
                              {"text", Kind::Text}},
                             Kind::Confirm);
    part.question = reader.needed_text("question");
    part.unit = reader.unit("unit");
    part.plausible = plausible_of(reader);
    part.tolerance = reader.expression("tolerance");
    part.target = reader.expression("target");
    part.instrument = reader.text_if("instrument");
    part.accept = reader.texts("accept");
    part.refuse = reader.texts("refuse");
    part.decimals = reader.whole("decimals");
    part.required = reader.flag("required");
    part.said = reader.text_if("said").value_or("");
    part.applies = reader.expression("applies");
    part.outside = outside_of(reader);
    reader.finish();
    if (part.kind == Kind::Quantity && !part.unit && table.find("unit") == nullptr)
        reader.error("kind", fmt::format("{} is a quantity without a unit", reader.whose()),
                     "Add unit = \"…\", \"\" for a bare number.");
    if (part.kind == Kind::Choice && part.accept.empty())
        reader.error("kind", fmt::format("{} is a choice without accepted answers", reader.whose()),
                     "Add accept = [\"…\"].");
    // It stands on a key; and what must be answered for itself is not said in passing.
    constexpr std::size_t longest_said = 24;
    if (!part.said.empty() && (part.kind != Kind::Confirm || part.required))
        reader.error("said", fmt::format("{} is said with the reading, and is no plain confirm that may be left out", reader.whose()),
                     "Take said away, or make the part kind = \"confirm\" without required.");
    if (part.said.size() > longest_said)
        reader.error("said", fmt::format("{} says more than a key can show", reader.whose()),
                     fmt::format("Use at most {} letters.", longest_said));
    return findings.count() == before ? std::optional{std::move(part)} : std::nullopt;
}

std::optional<Example> example_of(const Item& table, const std::string& check, Findings& findings) {
    const auto before = findings.count();
    Example example;
    example.at = table.at;
    TableReader reader{table, fmt::format("an example of \"{}\"", check), findings};
    example.facts = facts_noted(reader.table("facts"), findings);
    example.reading = reader.text("reading");
    example.uncertainty = reader.text_if("uncertainty");
    example.why = reader.text("why");
    example.parts = reader.words_by_name("parts");
    example.outcomes = reader.words_by_name("outcomes");
    example.answers = reader.words_by_name("answers");
    example.values = reader.words_by_name("values");
    example.earlier = reader.words_by_name("earlier");
    example.today = reader.day("today");
    example.photo_attached = reader.find("photo") == nullptr || reader.flag("photo");
    const auto outcome = reader.needed_text("outcome");
    example.outcome_at = reader.at("outcome");
    if (const auto expected = measure::outcome_named(outcome))
        example.expected = *expected;
    else if (!outcome.empty())
        reader.error(
            "outcome",
            fmt::format("{} expects \"{}\", which is no outcome", reader.whose(), outcome),
            "Use open, conforms, does not conform, inconclusive, deferred or not applicable.");
    reader.finish();
    return findings.count() == before ? std::optional{std::move(example)} : std::nullopt;
}

class CheckReader {
public:
    CheckReader(const Item& table, Findings& findings)
        : table_{table},
          findings_{findings},
          id_{id_of(table)},
          reader_{table, id_.empty() ? std::string{"a check without id"} : '"' + id_ + '"',
                  findings} {}

    std::optional<Check> read() {
        const auto before = findings_.count();
        check_.at = table_.at;
        for (const auto& [key, item] : table_.entries) check_.key_at[key] = item.at;
        check_.id = CheckId{reader_.needed_text("id")};
        read_words();
        read_rank();
        read_answer();
        read_places();
        read_series();
        read_softer_outcomes();
        read_lists();
        reader_.finish();
        demand_what_the_kind_needs();
        if (findings_.count() != before) return std::nullopt;
        return std::move(check_);
    }

private:
    static std::string id_of(const Item& table) {
        const auto* id = table.find("id");
        return id == nullptr ? std::string{} : id->text;
    }

    void read_words() {
        check_.stage = reader_.needed_text("stage");
        check_.title = reader_.needed_text("title");
        check_.question = reader_.needed_text("question");
        check_.why = reader_.needed_text("why");
        check_.how = reader_.text("how");
        check_.pitfall = reader_.text("pitfall");
        check_.on_fail = reader_.needed_text("on_fail");
        check_.evidence = reader_.text("evidence");
        check_.activity = reader_.text("activity");
        check_.licence = reader_.text("licence");
        check_.photo_of = reader_.text("photo_of");
    }

    void read_rank() {
        const auto kind = reader_.needed_text("kind");
        if (const auto known = kind_named(kind))
            check_.kind = *known;
        else if (!kind.empty())
            reader_.error("kind", fmt::format("kind of {} is \"{}\"", reader_.whose(), kind),
                          "Use confirm, choice, quantity, positions, series, text, photo, "
                          "signature or computed.");
        const auto severity = reader_.needed_text("severity");
        if (const auto known = severity_named(severity))
            check_.severity = *known;
        else if (!severity.empty())
            reader_.error("severity",
                          fmt::format("severity of {} is \"{}\"", reader_.whose(), severity),
                          "Use H, D, P or R.");
        check_.core = reader_.flag("core");
        check_.hold = reader_.flag("hold");
        check_.restricts = reader_.flag("restricts");
        check_.is_deviation = reader_.flag("deviation");
        check_.is_difference = reader_.flag("difference");
        check_.photo = one_of<PhotoWish>(reader_, "photo",
                                         {{"none", PhotoWish::None},
                                          {"wanted", PhotoWish::Wanted},
                                          {"required", PhotoWish::Required}},
                                         PhotoWish::None);
    }

    void read_answer() {
        check_.cautions = reader_.texts("caution");
        check_.sources = reader_.texts("source");
        check_.instrument = reader_.text_if("instrument");
        check_.applies = reader_.expression("applies");
        check_.unit = reader_.unit("unit");
        check_.plausible = plausible_of(reader_);
        check_.tolerance = reader_.expression("tolerance");
        check_.target = reader_.expression("target");
        check_.decimals = reader_.whole("decimals");
        check_.measurand = reader_.expression("measurand");
        check_.measurand_unit = reader_.unit("measurand_unit");
        for (const auto& id : reader_.texts("after")) check_.after.emplace_back(id);
        check_.accept = reader_.texts("accept");
        check_.refuse = reader_.texts("refuse");
        for (const auto& [answer, text] : reader_.words_by_name("accept_when"))
            read_accept_when(answer, text);
        const auto who = reader_.text("who");
        check_.signer = who;
        const auto rule = reader_.text_if("rule");
        if (rule) check_.rule = rule_named(*rule);
        if (rule && !check_.rule)
            reader_.error(
                "rule", fmt::format("rule of {} is \"{}\"", reader_.whose(), *rule),
                "Use crew-licences, instruments-due, open-items, kit-ready or survey-verdict.");
    }

    void read_accept_when(const std::string& answer, const std::string& text) {
        const auto* item = table_.find("accept_when")->find(answer);
        auto expression = Expression::parse(text, item->at);
        if (expression)
            check_.accept_when.emplace(answer, *std::move(expression));
        else
            findings_.error_in(item->at, text, fmt::format("accept_when of {}", reader_.whose()),
                               expression.error());
    }

    void read_places() {
        check_.places = reader_.texts("places");
        check_.places_from = reader_.expression("places_from");
        const bool numbers = table_.find("unit") != nullptr;
        check_.entry = one_of<EntryForm>(reader_, "entry",
                                         {{"number", EntryForm::Number},
                                          {"confirm", EntryForm::Confirm},
                                          {"choice", EntryForm::Choice}},
                                         numbers ? EntryForm::Number : EntryForm::Confirm);
        check_.together = reader_.expression("together");
    }

    void read_series() {
        SeriesPlan plan;
        plan.channels = reader_.texts("channels");
        plan.every = time_of(reader_, "every");
        plan.duration = time_of(reader_, "duration");
        plan.also = reader_.expressions("also");
        if (const auto text = reader_.text_if("allowed_drop")) {
            if (const auto drop = units::read_amount(*text, check_.unit.value_or(units::Unit{}), "allowed_drop"))
                plan.allowed_drop = drop->amount();
            else
                reader_.error("allowed_drop", fmt::format("allowed_drop of {} is \"{}\"", reader_.whose(), *text),
                              "Give it in the unit of the check, for example 10 kPa.");
        }
        constexpr int fewest = 2;
        plan.min_points = reader_.whole("min_points").value_or(fewest);
        const auto names = reader_.texts("extras");
        const auto units = reader_.texts("extra_units");
        if (names.size() != units.size())
            reader_.error("extras",
                          fmt::format("{} has {} extras and {} extra_units", reader_.whose(),
                                      names.size(), units.size()),
                          "Give each extra reading its unit, in the same order.");
        for (std::size_t i = 0; i < std::min(names.size(), units.size()); ++i) {
            const auto unit = units::unit_named(units[i]);
            if (unit)
                plan.extras.push_back({names[i], *unit});
            else
                reader_.error(
                    "extra_units",
                    fmt::format(
                        "extra_units of {} holds \"{}\", which is not a unit this tool knows",
                        reader_.whose(), units[i]),
                    "Use a unit of the list in the guide, for example kPa, °C, mm or N·m.");
        }
        if (check_.kind == Kind::Series) check_.series = std::move(plan);
    }

    void read_softer_outcomes() {
        auto conditions = reader_.expressions("valid_when");
        const auto words = reader_.texts("valid_words");
        if (conditions.size() != words.size())
            reader_.error("valid_when",
                          fmt::format("{} has {} valid_when and {} valid_words", reader_.whose(),
                                      conditions.size(), words.size()),
                          "Give each condition its words, in the same order.");
        for (std::size_t i = 0; i < std::min(conditions.size(), words.size()); ++i)
            check_.valid_when.push_back({std::move(conditions[i]), words[i]});
        check_.concession_when = reader_.expression("concession_when");
        check_.outside = outside_of(reader_);
        for (const auto& word : reader_.texts("works_out")) {
            const std::pair<std::string_view, WorkedOut> known[] = {{"hold-time", WorkedOut::HoldTime},
                                                                    {"sun-on-plane", WorkedOut::SunOnPlane},
                                                                    {"true-north", WorkedOut::TrueNorth},
                                                                    {"loop-rise", WorkedOut::LoopRise},
                                                                    {"heat-gain", WorkedOut::HeatGain}};
            const auto found = std::find_if(std::begin(known), std::end(known),
                                            [&](const auto& each) { return each.first == word; });
            if (found != std::end(known))
                check_.works_out.push_back(found->second);
            else
                reader_.error("works_out",
                              fmt::format("works_out of {} names \"{}\", which the tool does not work out",
                                          reader_.whose(), word),
                              "Use hold-time, sun-on-plane, true-north, loop-rise or heat-gain.");
        }
        check_.defer_reasons = reader_.texts("defer_reasons");
        check_.defer_days = reader_.whole("defer_days");
    }

    void read_lists() {
        for (const auto* table : reader_.tables("part"))
            if (auto part = part_of(*table, id_, findings_))
                check_.parts.push_back(*std::move(part));
        for (const auto* table : reader_.tables("example"))
            if (auto example = example_of(*table, id_, findings_))
                check_.examples.push_back(*std::move(example));
    }

    void demand(bool there, std::string what, std::string what_to_do) {
        if (!there)
            reader_.error("kind", fmt::format("{} {}", reader_.whose(), what),
                          std::move(what_to_do));
    }

    bool has(std::string_view key) const { return table_.find(key) != nullptr; }

    void demand_what_the_kind_needs() {
        switch (check_.kind) {
            case Kind::Quantity:
                demand(has("unit"), "is a quantity without a unit",
                       "Add unit = \"…\", \"\" for a bare number.");
                demand(has("tolerance"), "is a quantity without a tolerance",
                       "Add tolerance = \"reading …\".");
                break;
            case Kind::Series:
                demand(has("unit"), "is a series without a unit",
                       "Add unit = \"…\", that of its readings.");
                demand(has("measurand"), "is a series without a measurand",
                       "Say which number is judged, for example measurand = \"first - smallest\".");
                demand(has("tolerance"), "is a series without a tolerance",
                       "Add tolerance = \"reading …\".");
                break;
            case Kind::Positions:
                demand(has("places") || has("places_from"), "has no places",
                       "Add places = [\"…\"] or places_from = \"sys.anchor_n\".");
                if (check_.entry == EntryForm::Number)
                    demand(has("tolerance") || has("together"),
                           "reads numbers and has no tolerance", "Add tolerance or together.");
                if (check_.entry == EntryForm::Choice)
                    demand(!check_.accept.empty(), "is a choice without accepted answers",
                           "Add accept = [\"…\"].");
                break;
            case Kind::Choice:
                demand(!check_.accept.empty(), "is a choice without accepted answers",
                       "Add accept = [\"…\"].");
                break;
            case Kind::Computed:
                demand(has("tolerance") != has("rule"),
                       "is computed by neither a tolerance nor a rule, or by both",
                       "Give it exactly one of the two.");
                break;
            case Kind::Photo:
                demand(has("photo_of"), "asks for a photo and does not say of what",
                       "Add photo_of = \"…\".");
                break;
            case Kind::Signature:
                demand(has("who"), "asks for a signature and does not say whose",
                       "Add who = \"crew\" or \"customer\".");
                break;
            case Kind::Confirm:
            case Kind::Text:
                break;
        }
        demand_what_a_balance_needs();
    }

    // Without sun and air a heat balance would say nothing, and say it silently.
    void demand_what_a_balance_needs() {
        const auto& works_out = check_.works_out;
        if (std::find(works_out.begin(), works_out.end(), WorkedOut::HeatGain) == works_out.end()) return;
        const auto names = [&](std::string_view name) {
            return check_.series && std::any_of(check_.series->extras.begin(), check_.series->extras.end(),
                                                [&](const ExtraReading& extra) { return extra.name == name; });
        };
        demand(names("sun") && names("air"), "works out a heat gain without the extras sun and air",
               "Make it a series with extras = [\"sun\", \"air\"] and extra_units = [\"W/m²\", \"°C\"].");
    }

    const Item& table_;
    Findings& findings_;
    std::string id_;
    TableReader reader_;
    Check check_;
};

}  // namespace

std::vector<FactValue> facts_noted(const Item* table, Findings& findings) {
    if (table == nullptr) return {};
    auto read = facts_of(*table);
    for (auto& fault : read.faults) findings.error(fault.at, fault.what, fault.what_to_do);
    return std::move(read.values);
}

std::optional<Check> check_of(const Item& table, Findings& findings) {
    return CheckReader{table, findings}.read();
}

}  // namespace wm::checklist
