#include "demo/one_job.hpp"

#include <cmath>

namespace wm::demo {

namespace {

struct Fault {
    std::string check, place, text, done;
};

// What goes wrong in the demo job, and what was done about it.
const std::vector<Fault>& demo_faults() {
    static const std::vector<Fault> faults = {
        {"anchor-torque", "3", "16.8 N·m", "Tightened the third anchor again, thread greased"},
        {"pressure-limit-set", "", "520 kPa", "Turned the limiting valve down and let the pressure settle"},
        {"loop-freeze-point", "", "-15 °C", "Added concentrate, mixed for ten minutes, took a new sample"},
    };
    return faults;
}

const Fault* fault_of(const std::string& check) {
    for (const auto& fault : demo_faults())
        if (fault.check == check) return &fault;
    return nullptr;
}

std::string caption_for(const desk::CheckView& check) { return check.title; }

Result<void> enter_check(desk::Desk& desk, DemoClock& clock, const std::string& job, const desk::CheckView& check,
                         Dice& dice, std::uint64_t& pictures) {
    const Fault* fault = fault_of(check.id);
    for (auto& entry : entries_for(check, Wish::Right, dice)) {
        desk::TakeReading reading{.job = job, .check = check.id, .place = entry.place, .text = entry.text,
                                  .instrument = "", .photo = std::nullopt, .photo_name = "", .caption = "",
                                  .read_at = "", .by = "", .sure = false};
        const bool must_show = check.kind == "photo" || check.photo == "required";
        if (must_show || (entry.photo && pictures < 9)) {
            reading.photo = picture_of(check.id, ++pictures);
            reading.photo_name = check.id + ".jpg";
            reading.caption = caption_for(check);
        }
        clock.pass(14'000);
        if (fault != nullptr && fault->place == entry.place) {
            auto wrong = reading;
            wrong.text = fault->text;
            if (auto done = desk.carry_out(wrong); !done) return tl::unexpected(done.error());
            clock.pass(240'000);
            reading.photo = std::nullopt;
            if (auto done = desk.carry_out(desk::CorrectFault{reading, fault->done}); !done)
                return tl::unexpected(done.error());
            continue;
        }
        if (auto done = desk.carry_out(reading); !done) return tl::unexpected(done.error());
    }
    return {};
}

}  // namespace

House demo_house() {
    House house;
    house.street = "Kettlemark Row";
    house.customer = "Ansa Velmorrin";
    house.email = "ansa.velmorrin@example.org";
    house.vulnerable = true;
    house.serial = "0117";
    return house;
}

std::vector<desk::Stroke> demo_strokes(const std::string& name) {
    std::vector<desk::Stroke> strokes(1);
    double x = 4.0;
    int ms = 0;
    for (const char c : name) {
        if (c == ' ') {
            x += 4.0;
            ms += 200;
            strokes.emplace_back();
            continue;
        }
        const double height = 3.0 + static_cast<unsigned char>(c) % 7;
        for (int i = 0; i <= 12; ++i) {
            const double turn = i * 0.5235987755982988;
            strokes.back().push_back({x + i * 0.28 + std::sin(turn) * 1.1, 14.0 - height * (1.0 - std::cos(turn)) / 2.0, ms});
            ms += 14;
        }
        x += 3.4;
    }
    return strokes;
}

Result<DemoJob> do_demo_job(desk::Desk& desk, DemoClock& clock) {
    const auto crew = demo_crews().front();
    const auto house = demo_house();
    const auto job = desk.carry_out(desk::OpenJob{.checklist = "commissioning", .facts_text = facts_text(house, crew),
                                                  .facts_name = "demo facts", .after = "", .practice = false});
    if (!job) return tl::unexpected(job.error());
    Dice dice{117};
    std::uint64_t pictures = 0;
    const auto first = desk.job_view(*job);
    if (!first) return tl::unexpected(first.error());
    for (const auto& planned : first->checks) {
        // Seen again each time: what applies may hang on what was read before.
        const auto view = desk.job_view(*job);
        if (!view) return tl::unexpected(view.error());
        const desk::CheckView* check = nullptr;
        for (const auto& c : view->checks)
            if (c.id == planned.id) check = &c;
        if (check == nullptr || !check->applies) continue;
        if (check->id == "day-after" || check->id == "tap-retest") {
            const auto until = desk::day_after(desk::day_of(clock.now()), 6).value_or("");
            if (auto done = desk.carry_out(desk::DeferCheck{*job, check->id, until, crew.lead,
                                                            check->id == "day-after" ? "The first clear day without drawing water is still to come"
                                                                                      : "The solar store is not hot yet"});
                !done)
                return tl::unexpected(done.error());
            continue;
        }
        if (auto done = enter_check(desk, clock, *job, *check, dice, pictures); !done) return tl::unexpected(done.error());
    }
    clock.pass(60'000);
    for (const auto role : {desk::Signer::Crew, desk::Signer::Customer}) {
        const std::string name = role == desk::Signer::Crew ? crew.lead : house.customer;
        if (auto done = desk.carry_out(desk::Sign{*job, role, name, demo_strokes(name), ""}); !done)
            return tl::unexpected(done.error());
        clock.pass(30'000);
    }
    auto handed = desk.carry_out(desk::HandOver{*job});
    if (!handed) return tl::unexpected(handed.error());
    return DemoJob{*job, std::move(*handed)};
}

}  // namespace wm::demo
