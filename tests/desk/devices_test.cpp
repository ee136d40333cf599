#include "desk/devices.hpp"

#include "desk/persons_at_desk.hpp"
#include "desk/testing.hpp"
#include "desk/week.hpp"
#include "exchange/bundle.hpp"

namespace wm::desk {

using testing::Bench;
using testing::ladder;
using testing::seeded;
using testing::setup_in;

namespace {

std::string bundle_of(Desk& desk) {
    auto packed = exchange::pack(desk.journal(), {.since = {}, .passphrase = "six lanterns", .random = seeded("p")});
    REQUIRE(packed);
    return packed->bytes;
}

/// A tablet with a reading, and an office that took its bundle in.
struct Both {
    Bench tablet;
    testing::Folder folder;
    Setup setup = setup_in(folder.path(), tablet.clock, "office");
    std::optional<Desk> office;

    Both() {
        tablet.enter("ladder-set", "70°");
        take_in();
    }
    /// Each look is one of another program, as on the command line.
    void take_in() {
        office.reset();
        auto opened = Desk::open(setup);
        REQUIRE(opened);
        office.emplace(std::move(*opened));
        REQUIRE(exchange::unpack(office->journal(), bundle_of(tablet.desk()), {"b", "six lanterns", *tablet.clock.wall_ms}));
    }
    std::string device() { return tablet.desk().journal().device(); }
    std::vector<std::string> questions() {
        const auto week = week_view(*office, "2026-W48", {});
        REQUIRE(week);
        std::vector<std::string> sentences;
        for (const auto& question : week->questions)
            if (question.kind == "device") sentences.push_back(question.sentence);
        return sentences;
    }
    DeviceStanding standing() {
        const auto all = devices(*office);
        REQUIRE(all);
        for (const auto& view : *all)
            if (view.device == device()) return view.standing;
        FAIL("not listed");
        return DeviceStanding::Unknown;
    }
};

}  // namespace

TEST_CASE("a device that nobody met is named in job, report and week until a lead accepts it; its own folder says nothing") {
    Both both;
    const std::string id = both.device().substr(0, 8);
    CHECK(both.tablet.view().questions.empty());
    CHECK(both.standing() == DeviceStanding::Unknown);
    const std::string sentence = "Device " + id + " wrote into this job, and nobody has accepted it as one of ours.";
    CHECK(both.office->job_view(both.tablet.job)->questions == std::vector{sentence});
    REQUIRE(both.questions().size() == 1);
    CHECK(both.questions().front().starts_with("Device " + id + " wrote "));
    CHECK(both.questions().front().ends_with(" entries of this week, and nobody has accepted it as one of ours. They are counted like all others."));
    const auto week_after = [&](const std::string& device) { return work_of(both.office->journal(), device, "2026-11-30", "2026-12-06"); };
    CHECK(device_questions(*devices(*both.office), week_after)->empty());

    CHECK(judge_device(*both.office, id, DeviceWord::Accepted) == both.device());
    CHECK(both.standing() == DeviceStanding::Accepted);
    CHECK(both.office->job_view(both.tablet.job)->questions.empty());
    CHECK(both.questions().empty());

    CHECK(judge_device(*both.office, both.device(), DeviceWord::Refused));
    CHECK(both.standing() == DeviceStanding::Refused);
    CHECK(both.office->job_view(both.tablet.job)->questions ==
          std::vector<std::string>{"Device " + id + " wrote into this job, and it was refused as none of ours."});
    CHECK(both.questions().size() == 1);
    CHECK(both.office->journal().verify_journal()->is_genuine());
    // The next start says the same.
    both.take_in();
    CHECK(both.standing() == DeviceStanding::Refused);
}

TEST_CASE("a device does not accept itself, nor may an installer, and what is one of ours is not judged") {
    Both both;
    // The tablet accepts the office, and itself by an entry of its own.
    REQUIRE(both.tablet.desk().journal().append({.wall_ms = *both.tablet.clock.wall_ms, .customer = "",
                                                 .drafts = {{"", record::DeviceJudged{both.device(), "accepted", std::nullopt}}}}));
    both.take_in();
    CHECK(both.standing() == DeviceStanding::Unknown);
    CHECK_FALSE(judge_device(*both.office, both.office->journal().device(), DeviceWord::Refused));
    CHECK_FALSE(judge_device(*both.office, both.device().substr(0, 7), DeviceWord::Accepted));
    CHECK_FALSE(judge_device(*both.office, "ffffffff0000", DeviceWord::Accepted));
    both.office.reset();
    both.setup.person = store::Person{"Orla Finch", store::Role::Installer};
    both.take_in();
    const auto refused = judge_device(*both.office, both.device(), DeviceWord::Accepted);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().what == "Orla Finch is an installer here; only a lead may accept a device.");
    both.office.reset();
    both.setup.person = store::Person{"Ilka Marrowby", store::Role::Lead};
    both.take_in();
    REQUIRE(judge_device(*both.office, both.device(), DeviceWord::Accepted));
    const auto all = devices(*both.office);
    for (const auto& view : *all) CHECK(view.by == (view.device == both.device() ? "Ilka Marrowby" : ""));
}

TEST_CASE("the device that a folder was before is ours; one that only says so is not") {
    Bench bench;
    bench.enter("ladder-set", "70°");
    const std::string before = bench.desk().journal().device();
    REQUIRE(bench.desk().journal().become_new_device(*bench.clock.wall_ms));
    bench.enter("ladder-set", "71°");
    CHECK(bench.view().questions.empty());
    const auto both = devices(bench.desk());
    REQUIRE(both);
    CHECK(both->size() == 2);
    for (const auto& view : *both)
        CHECK(view.standing == (view.device == before ? DeviceStanding::Ours : DeviceStanding::ThisOne));

    // A stranger that names this device as the one it came from.
    testing::Folder folder;
    auto stranger = Desk::open(setup_in(folder.path(), bench.clock, "stranger"));
    REQUIRE(stranger);
    REQUIRE(exchange::unpack(stranger->journal(), bundle_of(bench.desk()), {"b", "six lanterns", *bench.clock.wall_ms}));
    REQUIRE(stranger->journal().become_new_device(*bench.clock.wall_ms));
    REQUIRE(stranger->carry_out(ladder(bench.job)));
    REQUIRE(exchange::unpack(bench.desk().journal(), bundle_of(*stranger), {"b", "six lanterns", *bench.clock.wall_ms}));
    int strangers = 0;
    const auto all = devices(bench.desk());
    REQUIRE(all);
    for (const auto& view : *all)
        if (!is_ours(view.standing)) ++strangers;
    CHECK(strangers == 2);
}

}  // namespace wm::desk
