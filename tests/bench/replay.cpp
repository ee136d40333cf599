// A changed tolerance over a million past readings, against SQLite comparing numbers that lie ready; and one tolerance
// expression against a parser of plain formulas.
#include <muParser.h>
#include <sqlite3.h>

#include <iostream>

#include "app/world.hpp"
#include "bench/benches.hpp"
#include "bench/timing.hpp"
#include "checklist/evaluate.hpp"
#include "desk/past_readings.hpp"
#include "desk/replay.hpp"
#include "units/reading.hpp"

namespace wm::bench {

namespace {

void must(int code, const char* what) {
    if (code == SQLITE_OK || code == SQLITE_DONE || code == SQLITE_ROW) return;
    std::cerr << what << ": SQLite says " << code << "\n";
    std::exit(4);
}

/// The jobs of the season again and again under new numbers, until there are so many readings.
audit::PastReadings many(const audit::PastReadings& season, std::size_t readings) {
    std::map<std::string, audit::PastJob> jobs;
    std::size_t rows = 0;
    for (std::size_t round = 0; rows < readings; ++round)
        for (std::size_t at = 0; at < season.job_count() && rows < readings; ++at) {
            auto job = season.job(at);
            job.job = fmt::format("J-{:03}-{}", round, job.job);
            rows += job.readings.size();
            jobs.emplace(job.job, std::move(job));
        }
    return audit::PastReadings{}.with(jobs);
}

/// The list with the tolerance of one check replaced, and without the examples that no longer hold.
std::string with_tolerance(std::string text, const std::string& id, const std::string& tolerance) {
    const auto name = text.find("id = \"" + id + "\"");
    const auto line = text.find("\ntolerance = ", name);
    text.replace(line, text.find('\n', line + 1) - line, "\ntolerance = \"" + tolerance + "\"");
    const auto next = std::min(text.find("[[check]]", name), text.size());
    if (const auto examples = text.find("[[check.example]]", name); examples < next) text.erase(examples, next - examples);
    return text;
}

/// Check, reading and target as numbers: what SQLite is spared is reading them.
sqlite3* in_sqlite(const audit::PastReadings& past) {
    sqlite3* db = nullptr;
    must(sqlite3_open(":memory:", &db), "open");
    must(sqlite3_exec(db, "create table r(job int, chk int, value real, target real, failed int) strict; begin", nullptr, nullptr, nullptr), "make");
    sqlite3_stmt* insert = nullptr;
    must(sqlite3_prepare_v2(db, "insert into r values(?,?,?,?,?)", -1, &insert, nullptr), "insert");
    const auto key = past.texts().find("sys.tilt_target");
    for (std::size_t job = 0; job < past.job_count(); ++job) {
        double target = 0.0;
        for (const auto& [fact, value] : past.facts(job))
            if (key && fact == *key) target = std::strtod(past.texts().text(value).c_str(), nullptr);
        for (auto row = past.readings_of(job).first; row < past.readings_of(job).last; ++row) {
            sqlite3_bind_int64(insert, 1, static_cast<sqlite3_int64>(job));
            sqlite3_bind_int64(insert, 2, past.check(row));
            sqlite3_bind_double(insert, 3, std::strtod(past.text(row).c_str(), nullptr));
            sqlite3_bind_double(insert, 4, target);
            sqlite3_bind_int(insert, 5, past.was(row) == measure::Outcome::DoesNotConform ? 1 : 0);
            must(sqlite3_step(insert), "row");
            sqlite3_reset(insert);
        }
    }
    sqlite3_finalize(insert);
    must(sqlite3_exec(db, "commit", nullptr, nullptr, nullptr), "commit");
    return db;
}

// Asked of both: how many fail now, how many would, and which of the check flip.
void time_sqlite(sqlite3* db, audit::Code check, const std::string& name, double seconds) {
    const auto sum = fmt::format("select count(*), sum(failed), sum(case when chk = {0} then abs(value - target) > 0.6 else failed end) from r", check);
    const auto flips = fmt::format("select job, value from r where chk = {0} and (abs(value - target) > 0.6) <> failed", check);
    const auto nothing = [](void*, int, char**, char**) { return 0; };
    tell("SQLite comparing, " + name, times_of(20, seconds, [&] {
             must(sqlite3_exec(db, sum.c_str(), nothing, nullptr, nullptr), "sum");
             must(sqlite3_exec(db, flips.c_str(), nothing, nullptr, nullptr), "flips");
         }));
}

int time_replay(desk::Desk& desk, const std::string& list, double seconds) {
    const auto season = desk::past_readings(desk);
    if (!season) {
        std::cerr << told(season.error()) << "\n";
        return 3;
    }
    auto past = many(season->readings, 1'000'000);
    const std::string name = fmt::format("{} results", past.reading_count());
    const auto narrower = with_tolerance(list, "coll-tilt", "reading within 0.6 ° of sys.tilt_target");
    const auto once = desk::replay(desk, past, narrower, "commissioning.toml");
    if (!once) {
        std::cerr << told(once.error()) << "\n";
        return 3;
    }
    std::cerr << fmt::format("replay: {} judged again, {} flip\n", once->judged_again, once->flips.size());
    tell("replay, " + name, times_of(5, seconds, [&] { keep(desk::replay(desk, past, narrower, "commissioning.toml")); }));
    const auto torque = with_tolerance(list, "anchor-torque", "reading within 3 % of sys.anchor_nm");
    const auto places = desk::replay(desk, past, torque, "commissioning.toml");
    if (places) {
        std::cerr << fmt::format("replay of a check with places: {} judged again, {} flip\n", places->judged_again, places->flips.size());
        tell("replay of a check with places, " + name, times_of(5, seconds, [&] { keep(desk::replay(desk, past, torque, "commissioning.toml")); }));
    }
    const auto kept = past.kept();
    tell("past readings read again, " + name, times_of(5, seconds, [&] { keep(audit::PastReadings::read_kept(kept)); }));
    auto* db = in_sqlite(past);
    time_sqlite(db, past.checks().find("coll-tilt").value_or(0), name, seconds);
    sqlite3_close(db);
    return 0;
}

int time_expression(const desk::Desk& desk, double seconds) {
    constexpr int batch = 1000;
    const auto expression = checklist::Expression::parse("reading within 0.6 ° of sys.tilt_target");
    const auto tilt = checklist::read_fact("sys.tilt_target", "35");
    const auto degree = units::unit_named("°");
    if (!expression || !tilt || !degree) return 3;
    checklist::Facts facts;
    facts.set(*tilt);
    const checklist::Context context{.facts = facts, .library = desk.library(), .today = "2027-03-04", .outcome_of = {}, .answer_of = {},
                                     .value_of = {}, .earlier_value_of = {}};
    std::vector<units::Amount> readings;
    for (int i = 0; i < batch; ++i) readings.push_back(units::read_amount(fmt::format("{}", 34.001 + 0.002 * i), *degree, "reading")->amount());
    checklist::Given given{context, {{"reading", readings.front()}}};
    auto& reading = given.names.find("reading")->second;
    int ours = 0;
    tell("a tolerance expression", times_of(2000, seconds, [&] {
             ours = 0;
             for (const auto& amount : readings) {
                 reading = amount;
                 const auto holds = checklist::is_true(*expression, expression->root(), given);
                 ours += holds && *holds ? 1 : 0;
             }
         }),
         batch);
    double value = 0.0, target = 35.0, width = 0.6;
    mu::Parser parser;
    parser.DefineVar("reading", &value);
    parser.DefineVar("target", &target);
    parser.DefineVar("width", &width);
    parser.SetExpr("abs(reading - target) <= width");
    int others = 0;
    tell("the same in muparser", times_of(2000, seconds, [&] {
             others = 0;
             for (const auto& amount : readings) {
                 value = amount.in(*degree);
                 others += parser.Eval() != 0.0 ? 1 : 0;
             }
         }),
         batch);
    if (ours == others) return 0;
    std::cerr << "ours lets " << ours << " pass, muparser " << others << "\n";
    return 1;
}

}  // namespace

int replay(const std::string& data, double seconds) {
    const auto arguments = app::sort_arguments({"replay", "--data", data});
    if (!arguments) return 2;
    const auto world = app::world_for(*arguments);
    if (!world) return 2;
    auto desk = app::open_desk(*world, desk::Access::Read);
    const auto list = app::read_file(world->share / "checklists/commissioning.toml");
    if (!desk || !list) {
        std::cerr << told(desk ? list.error() : desk.error()) << "\n";
        return 3;
    }
    if (const int failed = time_expression(*desk, seconds); failed != 0) return failed;
    return time_replay(*desk, *list, seconds);
}

}  // namespace wm::bench
