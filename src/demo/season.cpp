#include "demo/season.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "demo/season_complaints.hpp"

namespace wm::demo {

namespace {

bool is_entry_like(const desk::CheckView& check) {
    return check.form != desk::EntryForm::None && check.form != desk::EntryForm::Signature;
}

CheckShape shape_of(const desk::CheckView& check) {
    const auto needed = std::count_if(check.places.begin(), check.places.end(), [](const auto& place) { return place.required; });
    return {.id = check.id, .number = check.form == desk::EntryForm::Number,
            .positions = check.kind == "positions" ? static_cast<int>(needed) : 0};
}

// Wanted by the fast run, and what carries the patterns.
bool is_done(const desk::CheckView& check) {
    return check.core || check.hold || check.id == "frost-cold-feed" || check.id == "hook-gap" ||
           check.id == "element-res" || check.id == "drain-low" || check.id == "ins-wall";
}

struct Work {
    desk::Desk& desk;
    DemoClock& clock;
    const SeasonPlan& plan;
    Dice& dice;
    SeasonDone done;
    std::uint64_t pictures = 0;
};

std::vector<desk::TakeReading> readings_for(Work& work, const std::string& job, const desk::CheckView& check,
                                            const Visit& visit, Wish wish) {
    std::vector<desk::TakeReading> readings;
    const bool written_not_measured = visit.written_not_measured;
    for (auto& entry : entries_for(check, wish, work.dice)) {
        if (written_not_measured && check.id == "anchor-torque") entry.text = "20.0 N·m";
        if (check.id == "pressure-limit-set" && wish == Wish::Right)
            entry.text = fmt::format("{:.0f} kPa", pressure_shown(visit, work.plan.planted, work.dice));
        const double pause = written_not_measured && check.id == "anchor-torque"
                                 ? 1000.0 + 2000.0 * work.dice.uniform()
                                 : 14000.0 * std::exp(work.dice.normal(0.0, 0.5));
        work.clock.pass(static_cast<std::int64_t>(pause));
        readings.push_back({.job = job, .check = check.id, .place = entry.place, .text = entry.text, .instrument = "",
                            .photo = std::nullopt, .photo_name = "", .caption = "",
                            .read_at = desk::text_of(work.clock.now()), .by = "", .sure = true});
        // A season of photographs would only fill the disk; where the photo itself is the answer, a small one.
        if (check.kind == "photo") {
            const bool again = written_not_measured && work.dice.happens(0.3);
            readings.back().photo = picture_of(check.id, again ? 1 : ++work.pictures);
            readings.back().photo_name = check.id + ".jpg";
        }
    }
    return readings;
}

Result<void> settle(Work& work, const std::string& job, const desk::CheckView& check, const Visit& visit) {
    const double fate = work.dice.uniform();
    if (fate > 0.95 && check.severity != "H" && !check.hold) {
        if (fate > 0.97) {
            if (auto ok = work.desk.carry_out(desk::ConcedeCheck{job, check.id, "Odrun Vassamy", "Accepted for this house"}); !ok)
                return tl::unexpected(ok.error());
        }
        return {};
    }
    work.clock.pass(300'000);
    for (const auto& reading : readings_for(work, job, check, visit, Wish::Right)) {
        const auto answer = work.desk.carry_out(desk::CorrectFault{reading, "Put right and measured again"});
        // Only the failed place has something to correct.
        if (!answer && answer.error().kind != ProblemKind::Refused) return tl::unexpected(answer.error());
    }
    return {};
}

Result<void> do_check(Work& work, const std::string& job, const desk::CheckView& check, const Visit& visit) {
    const bool sun = check.id == "sun-window" || check.id == "temp-rise";
    if (check.id == "day-after" || (sun && !visit.clear)) {
        if (check.defer_reasons.empty()) return {};
        const auto until = desk::day_after(desk::day_of(work.clock.now()), check.id == "day-after" ? 6 : 13).value_or("");
        if (auto ok = work.desk.carry_out(desk::DeferCheck{job, check.id, until, demo_crews()[static_cast<std::size_t>(visit.crew)].lead,
                                                           "No clear sky today"});
            !ok)
            return tl::unexpected(ok.error());
        return {};
    }
    const bool wrong = work.dice.happens(first_try_chance(shape_of(check), visit, work.plan.planted));
    const Wish wish = wrong ? Wish::Wrong : Wish::Right;
    bool failed = false;
    for (const auto& reading : readings_for(work, job, check, visit, wish)) {
        const auto answers = work.desk.carry_out(reading);
        if (!answers) return tl::unexpected(answers.error());
        ++work.done.readings;
        for (const auto& answer : *answers) {
            failed = failed || answer.place_outcome == desk::Outcome::DoesNotConform;
            work.done.failed += answer.place_outcome == desk::Outcome::DoesNotConform ? 1 : 0;
            work.done.inconclusive += answer.place_outcome == desk::Outcome::Inconclusive ? 1 : 0;
        }
    }
    if (failed) return settle(work, job, check, visit);
    return {};
}

Result<std::string> do_visit(Work& work, const Visit& visit) {
    auto crew = demo_crews()[static_cast<std::size_t>(visit.crew)];
    crew.pressure_calibrated_on = gauge_calibrated_on(visit, work.plan);
    const auto job = work.desk.carry_out(desk::OpenJob{.checklist = "commissioning",
                                                       .facts_text = facts_text(visit.house, crew),
                                                       .facts_name = "season facts", .after = "", .practice = false});
    if (!job) return tl::unexpected(job.error());
    ++work.done.jobs;
    const auto view = work.desk.job_view(*job);
    if (!view) return tl::unexpected(view.error());
    for (const auto& check : view->checks) {
        if (visit.feed_left_out && check.id == "frost-cold-feed") continue;
        const bool sun = check.id == "temp-rise";
        if ((!check.applies && !sun) || !is_entry_like(check) || !is_done(check)) continue;
        if (auto ok = do_check(work, *job, check, visit); !ok) return tl::unexpected(ok.error());
    }
    return *job;
}

// The sun came out: what was put off for it is read.
Result<void> do_what_was_put_off(Work& work, const std::string& job, const Visit& visit) {
    auto later = visit;
    later.clear = true;
    for (const char* id : {"sun-window", "temp-rise"}) {
        const auto now = work.desk.job_view(job);
        if (!now) return tl::unexpected(now.error());
        for (const auto& check : now->checks)
            if (check.id == id)
                if (auto ok = do_check(work, job, check, later); !ok) return ok;
    }
    return {};
}

/// A call, or its cure, at its moment.
struct Happening {
    std::int64_t at = 0;  ///< ms
    const Call* call = nullptr;
    bool cures = false;
};

std::int64_t moment_on(const std::string& day, int ms_after_eight) {
    return desk::read_moment(day + "T08:00:00+05:00")->wall_ms + ms_after_eight;
}

std::vector<Happening> happenings_of(const std::vector<Call>& calls) {
    std::vector<Happening> all;
    for (const auto& call : calls) {
        all.push_back({moment_on(call.day, call.ms_after_eight), &call, false});
        if (call.cure) all.push_back({moment_on(call.cure->day, call.cure->ms_after_eight), &call, true});
    }
    std::stable_sort(all.begin(), all.end(), [](const Happening& a, const Happening& b) { return a.at < b.at; });
    return all;
}

/// All that is read there stands as right, sun and signature apart.
Result<void> read_rightly(Work& work, const std::string& job, const desk::CheckView& check, const Visit& visit) {
    for (const auto& reading : readings_for(work, job, check, visit, Wish::Right))
        if (const auto answers = work.desk.carry_out(reading); !answers) return tl::unexpected(answers.error());
    return {};
}

/// A visit for the complaint: its own list, and once more the check that catches the cause.
Result<void> cure(Work& work, const std::string& job, const std::string& complaint, const Call& call, const Visit& visit) {
    auto there = visit;
    there.written_not_measured = false;
    const auto sent = work.desk.carry_out(desk::VisitForComplaint{job, complaint});
    if (!sent) return tl::unexpected(sent.error());
    const auto listed = work.desk.job_view(*sent);
    if (!listed) return tl::unexpected(listed.error());
    for (const auto& check : listed->checks) {
        const bool done = check.applies && is_entry_like(check) && check.id != "svc-temp-rise" && check.form != desk::EntryForm::Series;
        if (!done || !(check.core || check.hold || check.id == "svc-complaints")) continue;
        if (auto ok = read_rightly(work, *sent, check, there); !ok) return ok;
    }
    const auto home = work.desk.job_view(job);
    if (!home) return tl::unexpected(home.error());
    for (const auto& check : home->checks)
        if (check.id == call.cure->check && check.applies)
            if (auto ok = read_rightly(work, job, check, there); !ok) return ok;
    const auto closed = work.desk.carry_out(desk::CloseComplaint{.job = job, .complaint = complaint, .cause = call.cure->cause, .found = "Put right and read again",
                                                                 .check = call.cure->check, .visit = *sent, .by = "Odrun Vassamy"});
    if (closed) ++work.done.complaints_closed;
    // Whatever else stands in its way leaves the complaint open, as it would for anyone.
    if (!closed && closed.error().kind != ProblemKind::Refused) return tl::unexpected(closed.error());
    return {};
}

}  // namespace

Result<SeasonDone> make_season(desk::Desk& desk, DemoClock& clock, const SeasonPlan& plan,
                               const std::function<void(int week)>& progress) {
    Dice dice{plan.seed * 104729 + 71};
    Work work{desk, clock, plan, dice, {}, 1000};
    int shown = 0;
    // Put-off checks come back nine days later; the journal's clock never runs backwards, so all goes by date.
    std::multimap<std::int64_t, std::pair<std::string, Visit>> put_off;
    const auto catch_up = [&](std::int64_t until) -> Result<void> {
        while (!put_off.empty() && put_off.begin()->first <= until) {
            const auto [at, what] = *put_off.begin();
            put_off.erase(put_off.begin());
            clock.set({at, 300});
            if (auto ok = do_what_was_put_off(work, what.first, what.second); !ok) return ok;
        }
        return {};
    };
    const auto visits = visits_of(plan);
    const auto calls = calls_of(plan, visits);
    std::vector<std::string> numbers;
    const auto happenings = happenings_of(calls);
    auto next = happenings.begin();
    std::map<const Call*, std::string> complaints;
    // Dice of their own: a cure moves nothing else of the season.
    Dice at_cures{plan.seed * 86028121 + 11};
    Work visits_after{desk, clock, plan, at_cures, {}, 100'000'000};
    const auto answer_calls = [&](std::int64_t until) -> Result<void> {
        for (; next != happenings.end() && next->at <= until; ++next) {
            const auto& call = *next->call;
            if (auto ok = catch_up(next->at); !ok) return ok;
            clock.set({next->at, 300});
            if (next->cures) {
                if (auto ok = cure(visits_after, numbers[call.visit], complaints[&call], call, visits[call.visit]); !ok) return ok;
                continue;
            }
            const auto taken = desk.carry_out(desk::TakeComplaint{.job = numbers[call.visit], .symptom = call.symptom, .words = "",
                                                                  .since = "", .air = fmt::format("{} °C", call.air_c), .by = "Odrun Vassamy"});
            if (!taken) return tl::unexpected(taken.error());
            complaints[&call] = *taken;
            ++work.done.complaints;
        }
        return {};
    };
    for (const auto& visit : visits) {
        for (; shown < visit.week; ++shown) progress(shown + 1);
        const auto start = desk::read_moment(visit.day + "T08:00:00+05:00");
        const auto begins = start->wall_ms + visit.ms_after_eight;
        if (auto ok = answer_calls(begins); !ok) return tl::unexpected(ok.error());
        if (auto ok = catch_up(begins); !ok) return tl::unexpected(ok.error());
        clock.set({begins, 300});
        const auto job = do_visit(work, visit);
        if (!job) return tl::unexpected(job.error());
        numbers.push_back(*job);
        // Deferrals that somebody looks after are closed within two weeks; one crew forgets many.
        if (!visit.clear && !visit.forgotten) put_off.emplace(begins + 9LL * 86'400'000, std::pair{*job, visit});
    }
    for (; shown < plan.weeks; ++shown) progress(shown + 1);
    if (auto ok = answer_calls(std::numeric_limits<std::int64_t>::max()); !ok) return tl::unexpected(ok.error());
    if (auto ok = catch_up(std::numeric_limits<std::int64_t>::max()); !ok) return tl::unexpected(ok.error());
    work.done.complaints_closed = visits_after.done.complaints_closed;
    work.done.first_week = desk::week_of(plan.first_monday).value_or("");
    work.done.last_week = desk::week_of(desk::day_after(plan.first_monday, 7 * (plan.weeks - 1)).value_or("")).value_or("");
    return work.done;
}

}  // namespace wm::demo
