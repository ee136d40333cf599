#include "desk/kept_messages.hpp"

#include "desk/outbox.hpp"
#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;

TEST_CASE("an outbox comes back from its text, and a torn or altered text gives none") {
    KeptOutbox outbox;
    outbox["J-1"] = {"hash", {{"m-1", "ünsa@example.test", "Report \"J-1\"", "waiting", "Waits.\n", "14:05", "450 later", "J-1", 2}}};
    outbox["J-2"] = {"other", {}};
    const auto text = text_of(outbox);
    REQUIRE(text);
    const auto back = read_outbox(*text);
    REQUIRE(back);
    CHECK(text_of(*back) == text);
    REQUIRE(back->at("J-1").messages.size() == 1);
    const auto& message = back->at("J-1").messages.front();
    CHECK(message.to == "ünsa@example.test");
    CHECK(message.last_answer == "450 later");
    CHECK(message.job == "J-1");
    CHECK(message.tries == 2);
    for (std::size_t end = 0; end < text->size(); ++end) CHECK_FALSE(read_outbox(text->substr(0, end)));
    CHECK_FALSE(read_outbox(R"([["J-1","hash",["m-1"]]])"));
    CHECK_FALSE(read_outbox(R"([["J-1"]])"));
    CHECK_FALSE(read_outbox(R"({"J-1":[]})"));
    CHECK_FALSE(text_of({{"J-1", {"hash", {{"m", "\xff", "", "", "", "", "", "J-1", 0}}}}}));
}

TEST_CASE("what is kept of the outbox follows what is written, and goes with an erased customer") {
    Bench bench;
    for (int i = 0; i < 17; ++i)
        REQUIRE(bench.desk().carry_out(OpenJob{"commissioning", testing::house_facts(testing::tools()), "f", "", false}));
    const auto none = messages(bench.desk());
    REQUIRE(none);
    CHECK(none->empty());
    const auto kept = bench.desk().journal().cache("messages");
    REQUIRE(kept);
    CHECK(read_outbox(kept->body)->size() == 18);
    // A job of which something else is kept than stands in the journal is believed only for the very entry it names.
    auto outbox = *read_outbox(kept->body);
    outbox[bench.job].messages = {{"m-1", "somebody", "Report", "waiting", "Waits.", "", "", bench.job, 0}};
    REQUIRE(bench.desk().journal().put_cache("messages", {std::string{outbox_made_from}, *text_of(outbox)}));
    CHECK(messages(bench.desk())->size() == 1);
    bench.enter("coll-tilt", "35°");
    CHECK(messages(bench.desk())->empty());
    REQUIRE(bench.desk().erase_customer(bench.job));
    CHECK_FALSE(bench.desk().journal().cache("messages"));
    CHECK(messages(bench.desk())->empty());
}

}  // namespace wm::desk
