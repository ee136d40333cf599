// `parts tick`: what was there at the store or at the van.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "app/parts_json.hpp"
#include "checklist/words.hpp"
#include "desk/part_code.hpp"
#include "desk/plate.hpp"
#include "desk/plate_text.hpp"
#include "handover/plate_code.hpp"

namespace wm::app {

namespace {

tl::unexpected<Problem> wrong_use(std::string what, std::string what_to_do) {
    return refused({std::move(what), "parts tick", std::move(what_to_do), ProblemKind::WrongUse});
}

/// The text of the tick, the same for each part of the call.
Result<std::string> said_in(const Arguments& arguments) {
    if (int{arguments.has("missing")} + int{arguments.has("changed")} + int{arguments.has("counted")} > 1)
        return wrong_use("A part is there, missing or another, and only what is there is counted.", "Give one of --counted, --missing and --changed.");
    const auto why = arguments.value("why");
    const std::string words = why.empty() ? "" : ": " + why;
    if (arguments.has("changed")) return "changed: " + arguments.value("changed") + (why.empty() ? "" : ", " + why);
    if (arguments.has("missing")) return "missing" + words;
    return "there" + (arguments.has("counted") ? ", " + arguments.value("counted") : "") + words;
}

/// The sheet may be that of an earlier job at the house: the kit, when the van is ticked for the roof.
Result<std::string> part_in_photo(desk::Desk& desk, const std::string& job, const std::string& file) {
    const auto picture = read_file(file);
    if (!picture) return tl::unexpected(picture.error());
    const auto coded = desk::part_in_picture(*picture, file);
    if (!coded) return tl::unexpected(coded.error());
    const auto hand = desk.in_hand(job);
    if (!hand) return tl::unexpected(hand.error());
    for (const auto* at = &*hand; at != nullptr; at = at->earlier.get())
        if (at->state().number == coded->job) return coded->part;
    return refused({fmt::format("This code is from the sheet of another job, {}.", coded->job), fmt::format("picture {}", file),
                    "Put the part back to the parts of that job.", ProblemKind::Refused});
}

bool is_ticked(const desk::PickRow& row, desk::TickPlace place) {
    return place == desk::TickPlace::Store ? row.store.has_value() : row.van.has_value();
}

const desk::PickRow* row_of(const desk::PickListView& list, const std::string& part) {
    const auto row = std::find_if(list.rows.begin(), list.rows.end(), [&](const desk::PickRow& each) { return each.part == part; });
    return row == list.rows.end() ? nullptr : &*row;
}

/// The parts that are named, by word or by picture.
Result<std::vector<std::string>> parts_meant(const Arguments& arguments, desk::Desk& desk, const desk::PickListView& list, desk::TickPlace place) {
    std::vector<std::string> parts;
    if (arguments.words.size() > 3) parts.assign(arguments.words.begin() + 3, arguments.words.end());
    for (const auto& photo : arguments.values("photo")) {
        auto part = part_in_photo(desk, list.job, photo);
        if (!part) return tl::unexpected(part.error());
        parts.push_back(*std::move(part));
    }
    if (parts == std::vector<std::string>{"all"}) {
        parts.clear();
        for (const auto& row : list.rows)
            if (!is_ticked(row, place)) parts.push_back(row.part);
    } else if (parts.empty()) {
        return wrong_use("No part is named.", "Name it as witnessmark parts does, or give a picture of its code with --photo.");
    }
    if (parts.size() > 1 && (arguments.has("counted") || arguments.has("batch") || arguments.has("serial") || arguments.has("article") || arguments.has("plate") ||
                             arguments.has("changed")))
        return wrong_use("An amount, a plate or a change belongs to one part.", "Tick the parts one by one.");
    return parts;
}

/// What is known of the part that is in hand.
struct Plate {
    std::string serial, batch;
    std::string until;  ///< its last day, where a code says one
    std::string article;  ///< or model; "" where nothing says one
};

/// What is kept of this part, from all codes of the picture. A code that follows no rule is its serial number, or its batch
/// where no number is kept.
Result<Plate> plate_in_photo(const desk::PickRow& row, const std::string& file) {
    const auto picture = read_file(file);
    if (!picture) return tl::unexpected(picture.error());
    const auto codes = handover::read_plate_codes(*picture, file);
    if (!codes) return tl::unexpected(codes.error());
    Plate plate;
    const auto keep = [&](std::string& into, const std::string& said) -> Result<void> {
        if (said.empty()) return {};
        if (!into.empty() && into != said)
            return refused({fmt::format("Two codes of this picture differ: {} and {}.", into, said), fmt::format("picture {}", file),
                            "Take the plate of one part alone.", ProblemKind::Unreadable});
        into = said;
        return {};
    };
    for (const auto& code : *codes) {
        const auto text = desk::read_plate_text(code.text, code.is_marked);
        if (!text) return tl::unexpected(text.error());
        const bool plain_is_serial = !row.serial.empty();
        for (const auto& [into, said] : {std::pair<std::string*, std::string>{&plate.serial, plain_is_serial ? text->serial + text->plain : ""},
                                         {&plate.batch, row.batch.empty() ? "" : plain_is_serial ? text->batch : text->batch + text->plain},
                                         {&plate.until, text->until},
                                         {&plate.article, row.articles.empty() ? "" : text->article}})
            if (const auto kept = keep(*into, said); !kept) return tl::unexpected(kept.error());
    }
    const bool is_asked = !row.articles.empty() && !plate.article.empty();
    if (plate.serial.empty() && plate.batch.empty() && !is_asked)
        return refused({fmt::format("Nothing on this plate is kept of {}.", row.part), fmt::format("picture {}", file),
                        "Take the plate that bears the serial number or the batch.", ProblemKind::Unreadable});
    return plate;
}

/// What stands on the plate goes to the fact that the list of parts names. What was typed goes before what was read.
Result<Plate> add_plate(const Arguments& arguments, const desk::PickRow& row, desk::StateFacts& intent) {
    Plate plate;
    if (arguments.has("plate")) {
        auto read = plate_in_photo(row, arguments.value("plate"));
        if (!read) return read;
        plate = *std::move(read);
    }
    if (arguments.has("serial")) plate.serial = arguments.value("serial");
    if (arguments.has("batch")) plate.batch = arguments.value("batch");
    if (arguments.has("article")) plate.article = arguments.value("article");
    const auto state = [&](const std::string& fact, const std::string& text, std::string_view option, std::string_view words) -> Result<void> {
        if (text.empty()) return {};
        if (fact.empty()) return wrong_use(fmt::format("No {} is kept of {}.", words, row.part), fmt::format("Leave --{} out.", option));
        intent.facts.emplace_back(fact, text);
        return {};
    };
    if (auto done = state(row.serial, plate.serial, "serial", "serial number"); !done) return tl::unexpected(done.error());
    if (auto done = state(row.batch, plate.batch, "batch", "batch"); !done) return tl::unexpected(done.error());
    return plate;
}

/// A part whose plate names another article is another part, whatever was ticked: the roof is asked as of any change.
void change_if_another(const desk::PickRow& row, const std::string& article, std::string& tick) {
    if (article.empty() || !tick.starts_with("there") || desk::is_wanted_article(row.articles, article)) return;
    const auto count = tick.substr(std::string_view{"there"}.size());
    tick = fmt::format("changed: its plate says {}, wanted is {}{}", article, fmt::join(row.articles, " or "), count);
}

std::string told(const desk::PickRow& row, desk::TickPlace place) {
    const auto& tick = place == desk::TickPlace::Store ? row.store : row.van;
    const std::string said = tick ? std::string{in_words(tick->said)} + (tick->counted.empty() ? "" : ", " + tick->counted) : "not ticked";
    std::string text = fmt::format("{}: {} at the {}\n", row.name, said, in_words(place));
    for (const auto& doubt : row.in_doubt) text += fmt::format("  {}\n", doubt);
    return text;
}

}  // namespace

Output tick_parts(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto job = arguments.word(2, "The job number");
    if (!job) return told_as(job.error(), form);
    const auto place = desk::tick_place_named(arguments.value("place"));
    if (!place)
        return told_as({"It was not said where the parts are ticked.", "parts tick", "Add --place store or --place van.", ProblemKind::WrongUse}, form);
    const auto said = said_in(arguments);
    if (!said) return told_as(said.error(), form);
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    auto list = desk::pick_list(*desk, *job);
    if (!list) return told_as(list.error(), form);
    const auto parts = parts_meant(arguments, *desk, *list, *place);
    if (!parts) return told_as(parts.error(), form);
    desk::StateFacts intent{.job = *job, .facts = {}};
    for (const auto& part : *parts) intent.facts.emplace_back(desk::tick_key(part, *place), *said);
    Plate plate;
    if (const auto* only = parts->size() == 1 ? row_of(*list, parts->front()) : nullptr; only != nullptr) {
        auto read = add_plate(arguments, *only, intent);
        if (!read) return told_as(read.error(), form);
        plate = *std::move(read);
        change_if_another(*only, plate.article, intent.facts.front().second);
    }
    if (!parts->empty()) {
        if (const auto done = desk->carry_out(intent); !done) return told_as(done.error(), form);
        list = desk::pick_list(*desk, *job);
        if (!list) return told_as(list.error(), form);
    }
    std::vector<desk::PickRow> rows;
    for (const auto& part : *parts)
        if (const auto* row = row_of(*list, part)) rows.push_back(*row);
    if (rows.size() == 1 && !plate.serial.empty()) {
        const auto elsewhere = desk::same_serial_elsewhere(*desk, {*job, rows.front().serial, plate.serial});
        if (!elsewhere) return told_as(elsewhere.error(), form);
        if (!elsewhere->empty())
            rows.front().in_doubt.push_back(fmt::format("{}: serial number {} stands in {} already. Was it read right?", rows.front().name,
                                                        plate.serial, checklist::listed(*elsewhere)));
    }
    if (rows.size() == 1 && !plate.until.empty() && plate.until < desk::day_of(desk->setup().now()))
        rows.front().in_doubt.push_back(fmt::format("{}: its last day, {}, has passed. Was it swapped?", rows.front().name, plate.until));
    Output output;
    for (const auto& row : rows) output.code = row.in_doubt.empty() ? output.code : 1;
    if (form == Form::Json) {
        Json ticked = Json::array();
        for (const auto& row : rows) ticked.push_back(in_json(row));
        output.data = document({{"job", *job}, {"place", in_words(*place)}, {"ticked", ticked}});
        return output;
    }
    for (const auto& row : rows) output.data += told(row, *place);
    if (rows.empty()) output.talk = fmt::format("Every part is ticked at the {} already.\n", in_words(*place));
    return output;
}

}  // namespace wm::app
