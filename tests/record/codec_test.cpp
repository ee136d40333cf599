#include "record/codec.hpp"

#include <doctest/doctest.h>

#include "digest/hash.hpp"
#include "record/testing.hpp"

using namespace wm::record;
using namespace wm::record::testing;

namespace {

Attached photo() {
    return {std::string(64, 'a'), "image/jpeg", "f00d", committed("The roof.")};
}

ReadingTaken full_reading() {
    ReadingTaken taken = reading("anchor-torque", "2", Outcome::Inconclusive, {"1", "2"});
    taken.instrument = "TW-2";
    taken.photos = {photo()};
    taken.read_at = "2027-03-04T09:10:00+02:00";
    taken.judged.whole_outcome = Outcome::Conforms;
    taken.judged.low = "18";
    taken.judged.high = "22";
    taken.judged.probability = "0.97";
    taken.out_of_order = {"members-found"};
    return taken;
}

/// One of every kind, with every field filled in.
std::vector<Body> one_of_each() {
    const std::string hash(64, 'b');
    return {
        JobOpened{"J-1a2b-0001", std::string(32, 'c'), "k1", "commissioning", "commissioning", 3,
                  hash, "J-1a2b-0000", true},
        FactsStated{{{"site.latitude", "29.4"}, {"customer.name", committed("Mirela Ostrand")}},
                    "P-02"},
        InstrumentRegistered{"TW-2", "torque wrench", "5 to 60 N·m", "0.5 N·m", "0.4 N·m",
                             "2026-05-01", "2027-05-01", "C-17", "0.1 N·m", "zero"},
        full_reading(),
        FaultCorrected{full_reading(), hash, committed("Tightened.")},
        Rejudged{"anchor-torque", "2", hash, judged(Outcome::DoesNotConform),
                 "sys.anchor_nm changed"},
        Deferred{"outlet-temp", "2027-03-05", committed("Ilka"), committed("Cold."), "heater cold",
                 "P-02"},
        Conceded{"coll-azimuth", "P-09", committed("Tree.")},
        Undone{hash, "P-02"},
        ConflictResolved{"anchor-torque", "2", hash, "P-02"},
        NoteMade{committed("Dog."), "access-safe", "P-02"},
        NearMissNoted{committed("Slip."), "access-safe", "P-02"},
        SignedBy{SignRole::Customer, committed("Mirela"), photo(), hash, committed("No."), "P-02"},
        HandedOver{HandoverKind::Restricted, hash, hash, "m1@wm", photo(), {"outlet-temp"}},
        JobReopened{committed("Leak."), "P-02"},
        Abandoned{true, committed("Storm."), {"cold feed"}, "P-02"},
        MessageQueued{"m1@wm", "handover", committed("a@b"), committed("Report"), photo()},
        MessageTried{"m1@wm", MessageState::CannotSend, "550 no", "2027"},
        DeviceStarted{"d1", "d0", hash, "30", "31"},
        DeviceRevoked{"d1", 17, "30", "lost"},
        Received{{{"d1", 4, hash}}},
        ClockJumped{"a", "b", -180000, "within a boot"},
        CustomerErased{"k1"},
        ActionDecided{"A-1A2B-0001", "crew and check", committed("Tindo"), "ins-ends", "2027-W09", "skill",
                      committed("Collars were not in the van."), committed("Show how at the van."),
                      committed("Odrun"), "2027-03-18", "A-1A2B-0000", committed("Odrun")},
        ActionDone{"A-1A2B-0001", "2027-03-10", committed("Shown."), committed("Odrun")},
        EffectChecked{"A-1A2B-0001", 30, "2026-09-09", "2027-03-11", "2027-04-09", 12, 50, 4, 52, "0.163077",
                      "0.020249", "0.30507", EffectVerdict::Helped, committed("Odrun")},
        ActionEnded{"A-1A2B-0001", committed("The crew is gone."), committed("Odrun")},
        InstrumentDoubted{"PG-4", "2027-01-04", "2027-03-04", "35 kPa", committed("Fell."), committed("Odrun")},
        BatchDoubted{"RV-K17", committed("Levers stick."), committed("Odrun")},
        JobTakenOver{"Ode Brannick", "Tindo Quellaby"},
        ComplaintTold{"C-1A2B-00123", "no-water", committed("Nothing comes."), "2027-01-04T08:10:00+02:00", "2027-01-03",
                      "-6 °C", committed("Odrun")},
        ComplaintClosed{"C-1A2B-00123", "frost-cold-feed", committed("The feed lay bare."), "frost-cold-feed", "J-1a2b-0002",
                        "2027-01-06T16:00:00+02:00", committed("Odrun")},
        TimeSourceChanged{"given by hand"},
        DeviceJudged{"d1", "accepted", committed("Odrun")},
        OwnerKept{hash, committed("Odrun")},
        EntriesLost{"d1", 18, 23},
        Unknown{"weather-seen", R"({"kind":"weather-seen","sky":"clear"})"},
    };
}

Entry entry_with(Body body) {
    return {"d1", 7, std::string(64, '0'), "2027-01-15T08:00:00.123Z.0004", "J-1", std::move(body)};
}

}  // namespace

TEST_CASE("an entry of every kind is written, read back equal and hashed the same") {
    const auto bodies = one_of_each();
    REQUIRE(bodies.size() == std::variant_size_v<Body>);
    for (std::size_t i = 0; i < bodies.size(); ++i) {
        CAPTURE(kind_of(bodies[i]));
        REQUIRE(bodies[i].index() == i);
        const Entry entry = entry_with(bodies[i]);
        const std::string line = line_of(entry).value();
        const auto again = read_line(line, "test");
        REQUIRE(again);
        CHECK(again->entry == entry);
        CHECK(again->hash == wm::digest::sha256_hex(line));
        CHECK(line_of(again->entry).value() == line);
    }
}

TEST_CASE("the line of an entry is the one that is written down here") {
    // The format is kept for ever: a change of this line is a new kind, not a new spelling.
    CHECK(
        line_of(entry_with(Undone{"h", "P-02"})).value() ==
        R"({"body":{"by":"P-02","entry":"h","kind":"undone"},"device":"d1","job":"J-1","prev":")" +
            std::string(64, '0') + R"(","seq":7,"time":"2027-01-15T08:00:00.123Z.0004"})");
}

TEST_CASE("the words of a person never enter the bytes of an entry") {
    for (const Body& body : one_of_each()) {
        const std::string text = body_text(body).value();
        for (const char* words :
             {"Mirela", "Ostrand", "Tightened.", "The roof.", "Ilka", "Dog.", "a@b", "Nothing comes.", "lay bare"}) {
            CAPTURE(words);
            CHECK(text.find(words) == std::string::npos);
        }
    }
}

TEST_CASE("words without a commitment are not written") {
    CHECK_FALSE(body_text(NoteMade{Personal::said("Dog."), "", ""}));
    CHECK_FALSE(line_of(entry_with(JobReopened{Personal{"abc", "Leak."}, ""})));
}

TEST_CASE("a kind or a field from a later version is kept byte for byte") {
    for (const char* text : {R"({"kind":"weather-seen","sky":"clear"})",
                             R"({"by":"P-02","entry":"h","kind":"undone","mood":"good"})"}) {
        CAPTURE(text);
        const auto body = read_body(text, "test");
        REQUIRE(body);
        CHECK(std::holds_alternative<Unknown>(*body));
        CHECK(body_text(*body).value() == text);
    }
}

TEST_CASE("a body with a field missing, empty or of another kind is refused in words") {
    struct Row {
        const char* text;
        const char* what;
    };
    for (const Row& row : {
             Row{R"({"by":"P-02","kind":"undone"})", "The field \"entry\" is missing."},
             Row{R"({"entry":7,"kind":"undone"})", "The field \"entry\" is of another kind."},
             Row{R"({"by":"","entry":"h","kind":"undone"})", "The field \"by\" is empty."},
             Row{R"({"entry":"h"})", "The entry does not say of which kind it is."},
             Row{R"({"kind":"note-made","text":"Dog."})", "The field \"text\" is of another kind."},
             Row{R"({"kind":"note-made","text":{"commitment":"12"}})",
                 "The field \"text\" is of another kind."},
         }) {
        CAPTURE(row.text);
        const auto body = read_body(row.text, "entry 7");
        REQUIRE_FALSE(body);
        CHECK(body.error().what == row.what);
        CHECK(body.error().where == "entry 7");
    }
}

TEST_CASE("one changed byte of a line is refused or gives another hash") {
    const std::string line = line_of(entry_with(full_reading())).value();
    const std::string hash = wm::digest::sha256_hex(line);
    for (std::size_t i = 0; i < line.size(); ++i) {
        std::string other = line;
        other[i] = static_cast<char>(other[i] ^ (1 << (i % 7)));
        const auto read = read_line(other, "test");
        if (read) CHECK(read->hash != hash);
    }
}

TEST_CASE("a line that is no entry is refused") {
    const std::string good = line_of(entry_with(Undone{"h", "P-02"})).value();
    REQUIRE(read_line(good, "test"));
    for (const auto& [from, to] : std::vector<std::pair<std::string, std::string>>{
             {"\"seq\":7", "\"seq\":0"},
             {"\"seq\":7", "\"seq\":-1"},
             {"2027-01-15", "2027-02-30"},
             {std::string(64, '0'), std::string(63, '0')},
             {"\"job\":\"J-1\",", ""},
             {"\"job\":\"J-1\",", "\"job\":\"J-1\",\"more\":1,"}}) {
        std::string bad = good;
        bad.replace(bad.find(from), from.size(), to);
        CAPTURE(bad);
        CHECK_FALSE(read_line(bad, "test"));
    }
}

TEST_CASE("every personal word and every attachment of an entry is found") {
    Body body = FaultCorrected{full_reading(), std::string(64, 'b'), committed("Tightened.")};
    std::vector<std::string> words;
    for (const Personal* personal : personal_in(body)) words.push_back(*personal->text);
    CHECK(words == std::vector<std::string>{"The roof.", "Tightened."});
    REQUIRE(attached_in(body).size() == 1);
    CHECK(attached_in(body).front()->fingerprint == "f00d");

    Body facts = FactsStated{{{"a", "1"}, {"customer.name", committed("Mirela")}}, ""};
    CHECK(personal_in(facts).size() == 1);
    Body free_text = reading("c", "", Outcome::Conforms);
    std::get<ReadingTaken>(free_text).text = committed("As agreed.");
    CHECK(personal_in(free_text).size() == 1);
}
