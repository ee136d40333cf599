// Works a whole commissioning job through in a headless window, from the job list to the handover: by one finger on three
// panels, and by keys alone. Prints what the hand did, and fails where the job cannot be finished so.
#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <map>

#include "app/handling_time.hpp"
#include "app/window_person.hpp"
#include "demo/house.hpp"
#include "demo/one_job.hpp"
#include "temporary_folder.hpp"

namespace {

using namespace wm;
using namespace wm::app;
using namespace wm::app::testing;
namespace fs = std::filesystem;

constexpr const char* day = "2027-03-04T09:10:00+02:00";

struct Way {
    const char* name;
    Hand hand;
    float width, height;
};

int failures = 0;
void must(bool holds, const std::string& words) {
    if (holds) return;
    ++failures;
    fmt::print("NOT: {}\n", words);
}

/// A data folder with one job of the demo house, and a picture to put to readings.
enum class Folder { WithJob, Empty };

void prepare(const fs::path& folder, Folder wanted) {
    fs::create_directories(folder / "photos");
    if (auto written = write_file(folder / "photos" / "001.jpg", demo::picture_of("nut-marks", 1)); !written) must(false, "picture");
    Arguments arguments;
    arguments.options.emplace("data", (folder / "data").string());
    arguments.options.emplace("at", day);
    const auto world = world_for(arguments);
    if (!world) {
        must(false, world.error().what);
        return;
    }
    auto desk = open_desk(*world, desk::Access::Write);
    if (!desk) {
        must(false, desk.error().what);
        return;
    }
    if (wanted == Folder::Empty) return;
    const auto job = desk->carry_out(desk::OpenJob{.checklist = "commissioning",
                                                   .facts_text = demo::facts_text(demo::demo_house(), demo::demo_crews().front()),
                                                   .facts_name = "demo facts", .after = "", .practice = false});
    must(job.has_value(), job ? "" : job.error().what);
}

void work(const Way& way, const char* list_to) {
    const TemporaryFolder place;
    const fs::path& folder = place.path();
    prepare(folder, Folder::WithJob);
    Person person{folder / "data", day, way.hand, way.width, way.height};
    if (!person.ready()) return must(false, "no desk");
    demo::Dice dice{117};
    person.open_first_job();
    person.work_through({"day-after", "tap-retest"}, dice);
    person.sign_and_hand_over("Bramblewisp", "Ansa Velmorrin");
    for (const auto& trouble : person.troubles()) must(false, fmt::format("{}: {}", way.name, trouble));
    const auto* job = person.job();
    must(job != nullptr && !job->handed_over_at.empty(), fmt::format("{}: the job is not handed over", way.name));
    if (job == nullptr) return;
    int open = 0;
    for (const auto& check : job->checks) {
        const bool left = check.applies && check.outcome == measure::Outcome::Open;
        if (left) must(false, fmt::format("{}: {} is still open", way.name, check.id));
        open += left ? 1 : 0;
    }
    const auto told = handling_of(*job, person.deeds());
    fmt::print("{:<28} {:>5} deeds, {:>3} checks, all {:.0f} s; core run: {} checks, {} observations, {} readings, {:.0f} s\n", way.name,
               person.deeds().size(), told.checks, told.all_s, told.core_checks, told.observations, told.readings, told.core_s);
    if (way.hand == Hand::OneFinger) {
        // One tap an observation, digits and one a reading; putting off is neither. 4 minutes for 55 checks are owed.
        for (const auto& each : told.excess) must(false, fmt::format("{}: more taps than needed at {}", way.name, each));
        must(told.core_s / told.core_checks <= 240.0 / 55.0,
             fmt::format("{}: {:.2f} s a check of the core run", way.name, told.core_s / told.core_checks));
    }
    if (list_to != nullptr)
        for (const auto& deed : person.deeds()) fmt::print("   {:<22} {}\n", deed.check, deed.what);
}

/// The tutorial, from the empty job list to its end: as long as a person takes who presses right at once.
void try_the_tool() {
    const TemporaryFolder place;
    const fs::path& folder = place.path();
    prepare(folder, Folder::Empty);
    Person person{folder / "data", day, Hand::OneFinger, 1280, 800};
    if (!person.ready()) return must(false, "no desk");
    demo::Dice dice{117};
    person.start_tutorial();
    person.work_through({}, dice);
    person.sign_and_hand_over("Bramblewisp", "a learner");
    for (const auto& trouble : person.troubles()) must(false, fmt::format("tutorial: {}", trouble));
    const auto* job = person.job();
    must(job != nullptr && job->row.practice && !job->handed_over_at.empty(), "the tutorial does not end as a practice job handed over");
    if (job == nullptr) return;
    const auto told = handling_of(*job, person.deeds());
    fmt::print("{:<28} {:>5} deeds, {:>3} checks, all {:.0f} s\n", "tutorial, one finger", person.deeds().size(), told.checks, told.all_s);
}

}  // namespace

int main(int count, char** words) {
    ::setenv("WITNESSMARK_SHARE", ".", 1);
    const char* list_to = count > 1 ? words[1] : nullptr;
    for (const Way& way : {Way{"one finger, 1280 x 800", Hand::OneFinger, 1280, 800},
                           Way{"one finger, 800 x 1280", Hand::OneFinger, 800, 1280},
                           Way{"keys alone, 1280 x 800", Hand::KeysAlone, 1280, 800}})
        if (list_to == nullptr || std::string_view{way.name}.starts_with(list_to)) work(way, list_to);
    if (list_to == nullptr) try_the_tool();
    return failures == 0 ? 0 : 1;
}
