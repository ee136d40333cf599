#include "desk/part_questions.hpp"

#include <algorithm>

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;
using testing::house_facts;
using testing::tools;

namespace {

bool asks(const std::vector<std::string>& sentences, const std::string& words) {
    return std::any_of(sentences.begin(), sentences.end(), [&](const std::string& each) { return each.find(words) != std::string::npos; });
}

}  // namespace

TEST_CASE("what was missing at the van is asked about on the roof until the check is answered") {
    Bench bench{house_facts(tools()), "kit"};
    REQUIRE(bench.desk().carry_out(StateFacts{bench.job, {{"part.vacuum-break.store", "there"}, {"part.vacuum-break.van", "missing"},
                                                          {"part.strainer.van", "there"}}}));
    // In the kit it stands where the part is counted.
    CHECK(asks(bench.check("kit-valves").beforehand, "Vacuum break: missing at the van."));
    const auto roof = bench.desk().carry_out(OpenJob{"commissioning", "", "facts.toml", bench.job, false});
    REQUIRE_MESSAGE(roof, (roof ? "" : told(roof.error())));
    bench.job = *roof;
    CHECK(asks(bench.check("vacuum-break").beforehand, "Vacuum break: missing at the van."));
    CHECK(asks(bench.view().questions, "Vacuum break: missing at the van."));
    CHECK_FALSE(asks(bench.check("valve-order").beforehand, "Strainer"));
    CHECK_FALSE(asks(bench.check("non-return").beforehand, "missing at the van"));
    bench.enter("vacuum-break", "fitted");
    REQUIRE(bench.check("vacuum-break").outcome == Outcome::Conforms);
    CHECK_FALSE(asks(bench.check("vacuum-break").beforehand, "missing at the van"));
    CHECK_FALSE(asks(bench.view().questions, "missing at the van"));
}

TEST_CASE("a part that came after all is asked about no more") {
    Bench bench{house_facts(tools()), "kit"};
    REQUIRE(bench.desk().carry_out(StateFacts{bench.job, {{"part.vacuum-break.van", "missing"}}}));
    const auto roof = bench.desk().carry_out(OpenJob{"commissioning", "", "facts.toml", bench.job, false});
    REQUIRE(roof);
    bench.job = *roof;
    REQUIRE(asks(bench.check("vacuum-break").beforehand, "missing at the van"));
    REQUIRE(bench.desk().carry_out(StateFacts{bench.job, {{"part.vacuum-break.van", "there"}}}));
    CHECK_FALSE(asks(bench.check("vacuum-break").beforehand, "missing at the van"));
}

TEST_CASE("a batch that is put on hold after it was loaded is asked about where it is fitted") {
    Bench bench{house_facts("batch.relief = \"RV-K17\"\n" + tools())};
    bench.enter("coll-tilt", "35°");
    REQUIRE(bench.desk().carry_out(StateFacts{bench.job, {{"part.relief.store", "there"}}}));
    CHECK_FALSE(asks(bench.check("relief-rating").beforehand, "on hold"));
    REQUIRE(bench.desk().carry_out(DoubtBatch{"RV-K17", "Levers stick.", ""}));
    CHECK(asks(bench.check("relief-rating").beforehand, "batch RV-K17 is on hold."));
}

TEST_CASE("a job whose list of parts is gone is shown all the same") {
    Bench bench{house_facts(tools()), "kit"};
    REQUIRE(bench.desk().carry_out(StateFacts{bench.job, {{"part.vacuum-break.van", "missing"}}}));
    auto setup = testing::setup_in(bench.data(), bench.clock, "later");
    setup.library.erase("parts.toml");
    bench.open_again(setup);
    CHECK(asks(bench.view().questions, "cannot be held against their list"));
}

}  // namespace wm::desk
