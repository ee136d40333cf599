// What is drawn of a plant, in the window and in the report.
#include "desk/plant_shape.hpp"

#include "desk/paper_journal.hpp"
#include "drawing/recorded.hpp"

namespace wm::desk {

using figures::Covering;
using figures::FeedKind;
using figures::Fitting;
using figures::LoopKind;
using figures::PlantShape;
using figures::StorePlace;
using testing::house_facts;
using testing::PaperJournal;
using testing::tools;

namespace {

PlantShape shape_from(const std::string& text) {
    const auto read = checklist::load_facts(text, "f.toml");
    REQUIRE_MESSAGE(read, (read ? "" : told(read.error())));
    return plant_shape(read->facts, record::JobState{});
}

const checklist::Check& named(const PaperJournal& journal, const std::string& id) {
    const auto* check = journal.hand().list->find(checklist::CheckId{id});
    REQUIRE(check != nullptr);
    return *check;
}

/// A house with one fact left out, then the rows put in.
std::string house(const std::string& more, const std::string& without) { return house_facts(more + "\n" + tools(), without); }

std::vector<std::string> words_drawn(const PlantShape& shape) {
    drawing::RecordedCanvas canvas;
    figures::draw_plant(canvas, {0.0, 0.0, 200.0, 128.0}, {.shape = shape, .pins = {}});
    std::vector<std::string> words;
    for (const auto& text : drawing::texts_of(canvas)) words.push_back(text.words);
    return words;
}

}  // namespace

TEST_CASE("the plant is drawn as it is fitted") {
    const auto one = shape_from("sys.kind = \"direct\"\nsys.feed = \"vented\"\nsys.geometry = \"close-coupled\"\n"
                                "roof.covering = \"slate\"\nsys.controller = \"none\"\n");
    CHECK((one.loop == LoopKind::Direct));
    CHECK((one.feed == FeedKind::Vented));
    CHECK((one.store == StorePlace::CloseCoupled));
    CHECK((one.covering == Covering::Slate));
    CHECK((one.controller == Fitting::Absent));
    CHECK_FALSE(one.relief_valve);
    const auto other = shape_from("sys.kind = \"indirect\"\nsys.feed = \"mains-pressure\"\nsys.geometry = \"raised\"\n"
                                  "roof.covering = \"clay-tile\"\nsys.controller = \"temperature-and-timer\"\n");
    CHECK((other.loop == LoopKind::Indirect));
    CHECK((other.feed == FeedKind::Mains));
    CHECK((other.store == StorePlace::Raised));
    CHECK((other.covering == Covering::Tile));
    CHECK((other.controller == Fitting::Fitted));
    CHECK(other.relief_valve);
    CHECK(other.roof_word == "clay tile");
}

TEST_CASE("every covering a house may have is drawn by its own pattern or by its word alone") {
    const std::map<std::string, Covering> patterns = {{"clay-tile", Covering::Tile},       {"concrete-tile", Covering::Tile},
                                                      {"slate", Covering::Slate},          {"metal-sheet", Covering::MetalSheet},
                                                      {"flat-concrete", Covering::FlatSlab}};
    const auto* spec = checklist::fact_named("roof.covering");
    REQUIRE(spec != nullptr);
    for (const auto& word : spec->choice_words()) {
        CAPTURE(word);
        const auto shape = shape_from("roof.covering = \"" + word + "\"\n");
        const auto found = patterns.find(word);
        CHECK((shape.covering == (found == patterns.end() ? Covering::Other : found->second)));
        CHECK_FALSE(shape.roof_word.empty());
        CHECK(shape.roof_word.find('-') == std::string::npos);
    }
}

TEST_CASE("what nobody has stated is not claimed") {
    const auto shape = shape_from("");
    CHECK_FALSE(shape.loop.has_value());
    CHECK_FALSE(shape.feed.has_value());
    CHECK_FALSE(shape.store.has_value());
    CHECK_FALSE(shape.controller.has_value());
    CHECK((shape.covering == Covering::Other));
    CHECK(shape.roof_word.empty());
    CHECK_FALSE(shape.relief_valve);
    CHECK_FALSE(shape.expansion_vessel);
}

TEST_CASE("an expansion vessel is drawn once the check that looks for it met one") {
    PaperJournal journal{house_facts(tools()), "commissioning"};
    CHECK_FALSE(journal.view().plant.expansion_vessel);
    const auto& room = named(journal, "expansion-room");
    REQUIRE(journal.read(room, "", "relief drip to a seen drain"));
    CHECK_FALSE(journal.view().plant.expansion_vessel);
    REQUIRE(journal.read(room, "", "Vessel"));
    CHECK(journal.view().plant.expansion_vessel);
    CHECK(journal.report().plant.expansion_vessel);
}

TEST_CASE("a mixing valve that was seen to be missing is not drawn until it is there") {
    PaperJournal journal{house_facts(tools()), "commissioning"};
    CHECK(journal.view().plant.mixing_valve);
    const auto& valve = named(journal, "tempering-fitted");
    REQUIRE(journal.read(valve, "", "missing"));
    CHECK_FALSE(journal.view().plant.mixing_valve);
    CHECK_FALSE(journal.report().plant.mixing_valve);
    REQUIRE(journal.read(valve, "", "after and ahead of the heater"));
    CHECK(journal.view().plant.mixing_valve);
}

TEST_CASE("window and report are given the same plant, whatever the house") {
    struct Row {
        std::string more, without;
        std::vector<std::string> says, not_says;
    };
    const std::string relief = "relief pipe, open at its end";
    const std::vector<Row> rows = {
        {"", "", {relief, "clay tile"}, {"open vent", "?", "not known: kind"}},
        {"sys.kind = \"direct\"", "sys.kind", {relief, "clay tile"}, {"open vent", "not known: kind"}},
        {"sys.feed = \"vented\"", "sys.feed", {"open vent"}, {relief}},
        {"sys.geometry = \"raised\"", "sys.geometry", {relief}, {"?"}},
        {"roof.covering = \"metal-sheet\"", "roof.covering", {"metal sheet"}, {"clay tile", "roof"}},
        {"roof.covering = \"flat-concrete\"", "roof.covering", {"flat concrete"}, {"clay tile", "roof"}},
        {"roof.covering = \"thatch\"", "roof.covering", {"thatch"}, {"clay tile", "roof"}},
        {"sys.controller = \"temperature\"", "sys.controller", {"clay tile"}, {"not known: controller"}},
        {"", "sys.kind", {"not known: kind"}, {}},
        {"", "sys.feed", {"not known: feed"}, {relief, "open vent"}},
        {"", "sys.geometry", {"?", "not known: place of the store"}, {}},
        {"", "roof.covering", {"roof", "not known: roof covering"}, {"clay tile"}},
        {"", "sys.controller", {"not known: controller"}, {}},
    };
    for (const Row& row : rows) {
        CAPTURE(row.more);
        CAPTURE(row.without);
        const PaperJournal journal{house(row.more, row.without), "commissioning"};
        const PlantShape window = journal.view().plant;
        CHECK((window == journal.report().plant));
        const auto words = words_drawn(window);
        for (const auto& word : row.says) {
            CAPTURE(word);
            CHECK(std::count(words.begin(), words.end(), word) == 1);
        }
        for (const auto& word : row.not_says) {
            CAPTURE(word);
            CHECK(std::count(words.begin(), words.end(), word) == 0);
        }
    }
}

}  // namespace wm::desk
