// `demo`: one job from facts to sealed report, or a season for the audit.
#include <fmt/format.h>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "demo/season.hpp"
#include "desk/outbox.hpp"

namespace wm::app {

namespace {

struct DemoPlan {
    std::filesystem::path into;
    std::string seed;
    int weeks = 0;
};

Result<DemoPlan> plan_from(const Arguments& arguments, const World& world) {
    DemoPlan plan{.into = arguments.has("into") ? std::filesystem::path{arguments.value("into")} : world.data / "demo",
                  .seed = arguments.value("seed", "1"),
                  .weeks = 0};
    for (const char c : plan.seed)
        if (c < '0' || c > '9' || plan.seed.size() > 9)
            return refused({"The seed must be a whole number.", "--seed", "Write --seed 1.", ProblemKind::WrongUse});
    if (arguments.has("weeks")) {
        const std::string text = arguments.value("weeks");
        for (const char c : text)
            if (c < '0' || c > '9' || text.size() > 2) plan.weeks = -1;
        if (plan.weeks == 0 && !text.empty()) plan.weeks = std::stoi(text);
        if (plan.weeks < 1 || plan.weeks > 52)
            return refused({"A season has 1 to 52 weeks.", "--weeks", "Write --weeks 26.", ProblemKind::WrongUse});
    }
    std::error_code problem;
    if (std::filesystem::exists(plan.into / "journal.db", problem))
        return refused({"There is a journal already; the demo writes only into a folder of its own.", plan.into.string(),
                        "Name another folder with --into.", ProblemKind::NotStored});
    return plan;
}

Result<desk::Desk> demo_desk(const World& world, const DemoPlan& plan, demo::DemoClock& clock) {
    World own = world;
    own.data = plan.into;
    auto setup = setup_for(own, desk::Access::Write);
    if (!setup) return tl::unexpected(setup.error());
    setup->now = [&clock] { return clock.now(); };
    // The clock of the story is moved on purpose; the machine's own count has nothing to say about it.
    setup->since_boot = {};
    setup->time_source = record::TimeSource::Hand;
    // Known seed, known keys: a demo folder must never be used for real work.
    setup->random = seeded_random("witnessmark demo " + plan.seed);
    setup->company_contact = "555-0100, Ostervaun, every day from 8 to 18";
    setup->fingerprint_published = "the notice board of the Lanternfold Terraces office";
    return desk::Desk::open(std::move(*setup));
}

Output one_job(const Arguments& arguments, const World& world, const DemoPlan& plan) {
    const Form form = form_of(arguments);
    demo::DemoClock clock{arguments.has("at") ? world.now() : desk::Moment{1788426600000LL, 300}};
    auto desk = demo_desk(world, plan, clock);
    if (!desk) return told_as(desk.error(), form);
    const auto done = demo::do_demo_job(*desk, clock);
    if (!done) return told_as(done.error(), form);
    const auto report = plan.into / "report.pdf";
    const auto message = plan.into / "message.eml";
    if (const auto w = write_file(report, done->handed.report); !w) return told_as(w.error(), form);
    const auto mails = desk::messages_as_files(*desk);
    if (!mails) return told_as(mails.error(), form);
    if (!mails->empty())
        if (const auto w = write_file(message, mails->front().bytes); !w) return told_as(w.error(), form);
    if (form == Form::Json)
        return {document({{"job", done->job}, {"report", report.string()}, {"message", message.string()},
                          {"journal", (plan.into / "journal.db").string()}, {"state", done->handed.state},
                          {"sha256", done->handed.sha256}}),
                "", 0};
    return {fmt::format("job      {}\nreport   {}\nmessage  {}\njournal  {}\n", done->job, report.string(), message.string(),
                        (plan.into / "journal.db").string()),
            fmt::format("An invented job was done and handed over ({}). Its keys are known to everyone: never use this "
                        "folder for real work.\n",
                        done->handed.state),
            0};
}

Output season(const Arguments& arguments, const World& world, const DemoPlan& plan) {
    const Form form = form_of(arguments);
    demo::DemoClock clock{{1783296000000LL, 300}};
    auto desk = demo_desk(world, plan, clock);
    if (!desk) return told_as(desk.error(), form);
    demo::SeasonPlan season{.weeks = plan.weeks, .seed = std::stoull(plan.seed)};
    const auto done = demo::make_season(*desk, clock, season, [](int) {});
    if (!done) return told_as(done.error(), form);
    if (form == Form::Json)
        return {document({{"jobs", done->jobs}, {"readings", done->readings}, {"failed", done->failed},
                          {"inconclusive", done->inconclusive}, {"complaints", done->complaints},
                          {"complaints_closed", done->complaints_closed}, {"first_week", done->first_week},
                          {"last_week", done->last_week}, {"journal", (plan.into / "journal.db").string()}}),
                "", 0};
    return {fmt::format("{} jobs and {} readings ({} failed, {} inconclusive), {} complaints ({} closed), {} to {}\njournal  {}\n",
                        done->jobs, done->readings, done->failed, done->inconclusive, done->complaints, done->complaints_closed, done->first_week, done->last_week, (plan.into / "journal.db").string()),
            "See witnessmark week WEEK --data DIR.\n", 0};
}

}  // namespace

Output run_demo(const Arguments& arguments, const World& world) {
    const auto plan = plan_from(arguments, world);
    if (!plan) return told_as(plan.error(), form_of(arguments));
    return plan->weeks > 0 ? season(arguments, world, *plan) : one_job(arguments, world, *plan);
}

}  // namespace wm::app
