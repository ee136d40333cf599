#include "desk/lost_entries.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "desk/testing.hpp"
#include "desk/week.hpp"
#include "digest/hash.hpp"
#include "store/files.hpp"

namespace wm::desk {

using testing::Bench;

TEST_CASE("entries that were saved and are missing are told in words at the opening, and asked about in their week") {
    Bench bench;
    bench.enter("coll-tilt", "35°");
    const auto setup = bench.desk().setup();
    const std::string device = bench.desk().journal().device();
    const auto last = bench.desk().journal().head().seq;
    CHECK_FALSE(bench.desk().journal().lost_at_opening());
    // As it stands where three entries more had been saved before the log was altered.
    const std::string line = fmt::format("{} {} {}", device, last + 3, std::string(64, 'a'));
    REQUIRE(store::write_file(setup.data / "head.txt", line + ' ' + digest::sha256_hex(line) + '\n'));
    bench.open_again(setup);

    const auto& lost = bench.desk().journal().lost_at_opening();
    REQUIRE(lost);
    CHECK(bench.desk().journal().device() != device);
    const auto words = words_on_loss(bench.desk(), *lost);
    const auto missing = fmt::format("3 entries that were saved ({} to {} of device {}) are missing", last + 1, last + 3, device.substr(0, 8));
    CHECK(words.what.starts_with(missing));
    CHECK(words.what_to_do.find("set-aside") != std::string::npos);

    const auto week = week_view(bench.desk(), "2026-W48", {});
    REQUIRE(week);
    const auto asked = std::find_if(week->questions.begin(), week->questions.end(), [](const auto& question) { return question.kind == "loss"; });
    REQUIRE(asked != week->questions.end());
    CHECK(asked->subject == device);
    CHECK(asked->sentence.starts_with(missing));
    const auto before = week_view(bench.desk(), "2026-W47", {});
    if (before) CHECK(std::none_of(before->questions.begin(), before->questions.end(), [](const auto& question) { return question.kind == "loss"; }));
    // What was entered before stands, and work goes on.
    CHECK(bench.check("coll-tilt").readings.size() == 1);
    bench.enter("coll-tilt", "36°");
    CHECK(bench.check("coll-tilt").readings.size() == 2);
    // Told once: the next opening has nothing new to say.
    bench.open_again(setup);
    CHECK_FALSE(bench.desk().journal().lost_at_opening());
}

}  // namespace wm::desk
