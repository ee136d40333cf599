#include "desk/house_history.hpp"

#include "desk/testing.hpp"

namespace wm::desk {

using namespace testing;

namespace {

HouseHistoryView history_of(Bench& bench, const std::string& job) {
    auto history = house_history(bench.desk(), job);
    REQUIRE_MESSAGE(history, (history ? "" : told(history.error())));
    return std::move(*history);
}

std::string all_words(const HouseHistoryView& history) {
    std::string text = history.place;
    for (const auto& [meaning, value] : history.fitted) text += "\n" + meaning + ": " + value;
    for (const auto& visit : history.visits) {
        text += "\n" + visit.job + visit.kind + visit.day + visit.state + visit.checklist + std::to_string(visit.conforming);
        for (const auto* list : {&visit.put_right, &visit.not_right, &visit.reports})
            for (const auto& one : *list) text += "\n" + one;
    }
    for (const auto& call : history.calls) text += "\n" + call.complaint + call.day + call.symptom + call.air + call.cause + call.check + call.closed;
    return text;
}

}  // namespace

TEST_CASE("the history of a house is the same before and after its customer was erased") {
    Bench bench;
    (void)bench.enter("ladder-set", "52°");
    (void)bench.correct("ladder-set", "70°", "Ansa held the foot");
    (void)bench.enter("coll-tilt", "41°");
    (void)bench.enter("frost-cold-feed", "insulated and drains itself");
    REQUIRE(bench.desk().carry_out(TakeComplaint{.job = bench.job, .symptom = "no-water", .words = "Ansa has no water", .air = "-6 °C"}));
    (void)bench.enter("frost-cold-feed", "insulated and drains itself");
    REQUIRE(bench.desk().carry_out(CloseComplaint{.job = bench.job, .complaint = "", .cause = "frost-cold-feed", .found = "Ansa's shed was open", .check = "frost-cold-feed"}));
    const auto visit = bench.desk().carry_out(OpenRevisit{bench.job, "Ansa called"});
    REQUIRE(visit);
    const auto before = history_of(bench, bench.job);
    CHECK(before.place == "Dovetail Steps");
    REQUIRE(before.visits.size() == 2);
    CHECK(before.visits[0].job == bench.job);
    CHECK(before.visits[0].put_right == std::vector<std::string>{bench.check("ladder-set").title});
    REQUIRE(before.visits[0].not_right.size() == 1);
    CHECK(before.visits[0].not_right[0].ends_with(": does not conform"));
    CHECK(before.visits[1].job == *visit);
    REQUIRE(before.calls.size() == 1);
    CHECK(before.calls[0].cause == "Frost burst the cold feed or the discharge");
    CHECK(std::any_of(before.fitted.begin(), before.fitted.end(), [](const auto& row) { return row.second == "150 L"; }));
    // From any job of the house it is the same house.
    auto from_visit = history_of(bench, *visit);
    from_visit.job = bench.job;
    CHECK(all_words(from_visit) == all_words(before));
    for (const char* personal : {"Ansa", "Velmorrin", "555-0142", "Dovetail Steps 14", "61.83", "Tindo"}) {
        CAPTURE(personal);
        CHECK(all_words(before).find(personal) == std::string::npos);
    }
    REQUIRE(bench.desk().erase_customer(bench.job));
    CHECK(all_words(history_of(bench, bench.job)) == all_words(before));
}

TEST_CASE("the history goes on paper, with each report by its hash") {
    Bench bench;
    bench.do_all();
    bench.sign_both();
    const auto handed = bench.desk().carry_out(HandOver{bench.job});
    REQUIRE(handed);
    const auto history = history_of(bench, bench.job);
    REQUIRE(history.visits.size() == 1);
    CHECK(history.visits[0].reports == std::vector<std::string>{handed->sha256});
    const auto page = house_page(bench.desk(), history);
    REQUIRE_MESSAGE(page, (page ? "" : told(page.error())));
    CHECK(page->starts_with("%PDF-"));
    CHECK_FALSE(house_history(bench.desk(), "J-none"));
}

}  // namespace wm::desk
