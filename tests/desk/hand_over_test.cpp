#include "desk/attest.hpp"
#include "desk/outbox.hpp"
#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;
using testing::files_holding;
using testing::house_facts;
using testing::tools;

TEST_CASE("a job is handed over once, after both signatures, and the report is kept") {
    Bench bench;
    bench.do_all();
    const auto early = bench.desk().carry_out(HandOver{bench.job});
    REQUIRE_FALSE(early);
    CHECK(early.error().what == "The record is not signed: Crew signs.");
    const auto unsealed = bench.desk().sealed_report(bench.job);
    REQUIRE_FALSE(unsealed);
    CHECK(unsealed.error().kind == ProblemKind::Refused);
    bench.sign_both();
    const auto handed = bench.desk().carry_out(HandOver{bench.job});
    REQUIRE_MESSAGE(handed, (handed ? "" : told(handed.error())));
    CHECK(handed->state == "full");
    CHECK(handed->report.starts_with("%PDF-"));
    CHECK(handed->sha256 == digest::sha256_hex(handed->report));
    CHECK(bench.view().row.state == "handed over");
    CHECK(bench.view().report_sha256 == handed->sha256);
    CHECK(*bench.desk().sealed_report(bench.job) == handed->report);
    const auto twice = bench.desk().carry_out(HandOver{bench.job});
    REQUIRE_FALSE(twice);
    CHECK(twice.error().what == "The job is handed over already.");
    CHECK_FALSE(bench.desk().carry_out(UndoLast{bench.job}));
    CHECK_FALSE(bench.desk().carry_out(AbandonJob{bench.job, "Water shut", "storm"}));
}

TEST_CASE("taps put off to tomorrow restrict the handover") {
    Bench bench;
    bench.do_all({"outlet-temp"});
    REQUIRE(bench.desk().carry_out(DeferCheck{bench.job, "outlet-temp", "2026-11-26", "Ode Brannick", "not hot yet"}));
    bench.sign_both();
    const auto handed = bench.desk().carry_out(HandOver{bench.job});
    REQUIRE_MESSAGE(handed, (handed ? "" : told(handed.error())));
    CHECK(handed->state == "restricted");
    CHECK(bench.view().row.state == "restricted");
}

TEST_CASE("page one is read from the same record as the report") {
    Bench bench;
    bench.do_all({"coll-tilt"});
    bench.enter("coll-tilt", "41°");
    bench.correct("coll-tilt", "35°", "Moved the rear legs");
    const auto words = bench.desk().page_one(bench.job);
    REQUIRE(words);
    CHECK(std::any_of(words->begin(), words->end(),
                      [](const std::string& line) { return line.find("Moved the rear legs") != std::string::npos; }));
    CHECK(bench.desk().draft_report(bench.job));
}

TEST_CASE("what is read back before the handover never says that it was, afterwards it does") {
    Bench bench;
    bench.do_all();
    bench.sign_both();
    const auto before = bench.desk().page_one(bench.job);
    REQUIRE(before);
    CHECK(before->front() == "Not handed over yet: checks are left");
    REQUIRE(bench.desk().carry_out(HandOver{bench.job}));
    const auto after = bench.desk().page_one(bench.job);
    REQUIRE(after);
    CHECK(after->front() == "Handed over, with checks left");
}

TEST_CASE("no word of a person is in the files of a folder, whatever was entered") {
    Bench bench;
    bench.do_all({"goods-scan"});
    auto note = bench.reading("goods-scan", "ST-1 from Quorn Pimpernel, dent at the rim");
    note.photo = testing::photo_bytes(17);
    note.photo_name = "secret-name.jpg";
    note.caption = "Pimpernel beside the tank";
    bench.take(note);
    bench.enter("coll-tilt", "41°");
    bench.correct("coll-tilt", "35°", "Pimpernel held the legs");
    REQUIRE(bench.desk().carry_out(NoteNearMiss{bench.job, "Pimpernel nearly fell"}));
    bench.sign_both();
    const auto handed = bench.desk().carry_out(HandOver{bench.job});
    REQUIRE_MESSAGE(handed, (handed ? "" : told(handed.error())));
    const auto sent = send_messages(
        bench.desk(),
        [](const std::string&, const std::vector<std::string>& to, const std::string&) {
            return post::Attempt{post::PostState::Waiting, "450 mailbox of <" + to.front() + "> busy"};
        },
        Which::AllWaiting);
    REQUIRE(sent);
    for (const std::string words : {"Pimpernel", "Velmorrin", "example.org", "555-0142", "Dovetail Steps 14", "61.83", "secret-name",
                              "<polyline", "%PDF-", "MIME-Version", "JFIF"}) {
        CAPTURE(words);
        const auto found = files_holding(bench.data(), words);
        const std::string where = found.empty() ? "" : found.front();
        CAPTURE(where);
        CHECK(found.empty());
    }
    // The scan does find what may be there: the street and the crew are no secret.
    CHECK_FALSE(files_holding(bench.data(), "Quellaby").empty());
}

TEST_CASE("without a mail address the report is kept and no message is queued") {
    Bench bench{house_facts(tools(), "customer.email")};
    bench.do_all();
    bench.sign_both();
    const auto handed = bench.desk().carry_out(HandOver{bench.job});
    REQUIRE_MESSAGE(handed, (handed ? "" : told(handed.error())));
    CHECK(handed->message.empty());
    CHECK(messages(bench.desk())->empty());
}

}  // namespace wm::desk
