#include "exchange/office_steps.hpp"

#include <fmt/format.h>

#include <array>

namespace wm::exchange {
namespace {

// Kept to what distributed engines that speak PostgreSQL's SQL accept: no trigger, no function, no sequence, no foreign
// key, no lock by number, no SERIAL; every key is made by its writer, and nothing is counted on one node for the others.
// COLLATE "C": ids and stamps are compared as bytes, as SQLite does and whatever language the database was made for.
//
// `crew` is the role of the crew whose tablet made the bundle; empty while a tablet is given to none.
constexpr std::string_view tables = R"sql(
CREATE TABLE entry(
    device TEXT COLLATE "C" NOT NULL,
    seq BIGINT NOT NULL,
    prev TEXT COLLATE "C" NOT NULL,
    hash TEXT COLLATE "C" NOT NULL,
    time TEXT COLLATE "C" NOT NULL,
    job TEXT COLLATE "C" NOT NULL,
    body TEXT COLLATE "C" NOT NULL,
    PRIMARY KEY (device, seq, hash)) PARTITION BY HASH (device);
CREATE TABLE entry_0 PARTITION OF entry FOR VALUES WITH (MODULUS 8, REMAINDER 0);
CREATE TABLE entry_1 PARTITION OF entry FOR VALUES WITH (MODULUS 8, REMAINDER 1);
CREATE TABLE entry_2 PARTITION OF entry FOR VALUES WITH (MODULUS 8, REMAINDER 2);
CREATE TABLE entry_3 PARTITION OF entry FOR VALUES WITH (MODULUS 8, REMAINDER 3);
CREATE TABLE entry_4 PARTITION OF entry FOR VALUES WITH (MODULUS 8, REMAINDER 4);
CREATE TABLE entry_5 PARTITION OF entry FOR VALUES WITH (MODULUS 8, REMAINDER 5);
CREATE TABLE entry_6 PARTITION OF entry FOR VALUES WITH (MODULUS 8, REMAINDER 6);
CREATE TABLE entry_7 PARTITION OF entry FOR VALUES WITH (MODULUS 8, REMAINDER 7);
CREATE INDEX entry_of_job ON entry(job, time, hash);
CREATE TABLE personal(
    commitment TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    customer TEXT COLLATE "C" NOT NULL,
    box BYTEA NOT NULL,
    crew TEXT COLLATE "C" NOT NULL);
CREATE INDEX personal_of_customer ON personal(customer);
CREATE TABLE attachment(
    id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    customer TEXT COLLATE "C" NOT NULL,
    box BYTEA NOT NULL,
    crew TEXT COLLATE "C" NOT NULL);
CREATE INDEX attachment_of_customer ON attachment(customer);
CREATE TABLE erased(customer TEXT COLLATE "C" NOT NULL PRIMARY KEY);
CREATE TABLE head(
    device TEXT COLLATE "C" NOT NULL,
    seq BIGINT NOT NULL,
    hash TEXT COLLATE "C" NOT NULL,
    public_key BYTEA NOT NULL,
    signature BYTEA NOT NULL,
    PRIMARY KEY (device, seq, hash));
CREATE TABLE pin(
    hash TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    list BYTEA NOT NULL);
CREATE TABLE bundle(
    sha256 TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    name TEXT COLLATE "C" NOT NULL,
    entries BIGINT NOT NULL,
    taken TEXT COLLATE "C" NOT NULL,
    crew TEXT COLLATE "C" NOT NULL);
CREATE TABLE crew_device(
    device TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    crew TEXT COLLATE "C" NOT NULL);
CREATE TABLE crew_job(
    job TEXT COLLATE "C" NOT NULL PRIMARY KEY,
    crew TEXT COLLATE "C" NOT NULL);
)sql";

// Nobody is given UPDATE of what was taken in but of whose it is, and DELETE only where an erasure needs it. A partition is reached through
// `entry` alone, for on itself nobody has a right. A job is one crew's: that of the tablet that opened it.
constexpr std::string_view rights = R"sql(
ALTER TABLE entry ENABLE ROW LEVEL SECURITY;
ALTER TABLE personal ENABLE ROW LEVEL SECURITY;
ALTER TABLE attachment ENABLE ROW LEVEL SECURITY;
ALTER TABLE erased ENABLE ROW LEVEL SECURITY;
ALTER TABLE head ENABLE ROW LEVEL SECURITY;
ALTER TABLE pin ENABLE ROW LEVEL SECURITY;
ALTER TABLE bundle ENABLE ROW LEVEL SECURITY;
ALTER TABLE crew_device ENABLE ROW LEVEL SECURITY;
ALTER TABLE crew_job ENABLE ROW LEVEL SECURITY;
GRANT SELECT ON office_step TO witnessmark_crew, witnessmark_lead;
GRANT SELECT, INSERT ON entry, personal, attachment, head, pin, bundle, crew_job TO witnessmark_crew;
GRANT SELECT ON erased, crew_device TO witnessmark_crew;
GRANT SELECT, INSERT ON entry, personal, attachment, erased, head, pin, bundle, crew_device, crew_job TO witnessmark_lead;
GRANT DELETE, UPDATE (crew) ON personal, attachment TO witnessmark_lead;
GRANT UPDATE, DELETE ON crew_device, crew_job TO witnessmark_lead;
CREATE POLICY lead_all ON entry TO witnessmark_lead USING (true) WITH CHECK (true);
CREATE POLICY lead_all ON personal TO witnessmark_lead USING (true) WITH CHECK (true);
CREATE POLICY lead_all ON attachment TO witnessmark_lead USING (true) WITH CHECK (true);
CREATE POLICY lead_all ON erased TO witnessmark_lead USING (true) WITH CHECK (true);
CREATE POLICY lead_all ON head TO witnessmark_lead USING (true) WITH CHECK (true);
CREATE POLICY lead_all ON pin TO witnessmark_lead USING (true) WITH CHECK (true);
CREATE POLICY lead_all ON bundle TO witnessmark_lead USING (true) WITH CHECK (true);
CREATE POLICY lead_all ON crew_device TO witnessmark_lead USING (true) WITH CHECK (true);
CREATE POLICY lead_all ON crew_job TO witnessmark_lead USING (true) WITH CHECK (true);
CREATE POLICY crew_sees ON entry FOR SELECT TO witnessmark_crew USING (
    EXISTS (SELECT 1 FROM crew_job AS own WHERE own.job = entry.job AND own.crew = current_user) OR
    (entry.job = '' AND EXISTS (SELECT 1 FROM crew_device AS own WHERE own.device = entry.device AND own.crew = current_user)));
CREATE POLICY crew_adds ON entry FOR INSERT TO witnessmark_crew WITH CHECK (
    EXISTS (SELECT 1 FROM crew_device AS own WHERE own.device = entry.device AND own.crew = current_user) AND
    (entry.job = '' OR EXISTS (SELECT 1 FROM crew_job AS own WHERE own.job = entry.job AND own.crew = current_user)));
CREATE POLICY crew_own ON personal TO witnessmark_crew USING (crew = current_user) WITH CHECK (crew = current_user);
CREATE POLICY crew_own ON attachment TO witnessmark_crew USING (crew = current_user) WITH CHECK (crew = current_user);
CREATE POLICY crew_own ON bundle TO witnessmark_crew USING (crew = current_user) WITH CHECK (crew = current_user);
CREATE POLICY crew_own ON crew_job TO witnessmark_crew USING (crew = current_user) WITH CHECK (crew = current_user);
CREATE POLICY crew_own ON crew_device FOR SELECT TO witnessmark_crew USING (crew = current_user);
CREATE POLICY crew_own ON head TO witnessmark_crew USING (
    EXISTS (SELECT 1 FROM crew_device AS own WHERE own.device = head.device AND own.crew = current_user))
    WITH CHECK (EXISTS (SELECT 1 FROM crew_device AS own WHERE own.device = head.device AND own.crew = current_user));
CREATE POLICY crew_sees ON erased FOR SELECT TO witnessmark_crew USING (true);
CREATE POLICY crew_pins ON pin TO witnessmark_crew USING (true) WITH CHECK (true);
)sql";

struct Step {
    std::int64_t version = 0;
    std::string_view statements;
};
// What was released in a step is never changed again: a change is a next step.
constexpr std::array all_steps{Step{1, tables}, Step{2, rights}};
static_assert(all_steps.back().version == office_version, "the last step leads to the version of this program");

/// Roles belong to the whole server, so another office's database may have made them.
Result<void> make_groups(Connection& connection) {
    for (const std::string_view group : {crew_group, lead_group}) {
        const auto there = connection.run("SELECT 1 FROM pg_roles WHERE rolname = $1", Values{}.text(group));
        if (!there) return refused(there.error());
        if (there->count() > 0) continue;
        if (auto made = connection.run_all(fmt::format("CREATE ROLE {}", group)); !made) return made;
    }
    return {};
}

}  // namespace

Result<std::int64_t> office_version_of(Connection& connection) {
    const auto there = connection.run(
        "SELECT 1 FROM information_schema.tables WHERE table_schema = current_schema() AND table_name = 'office_step'");
    if (!there) return refused(there.error());
    if (there->count() == 0) return 0;
    const auto version = connection.run("SELECT max(version) FROM office_step");
    if (!version) return refused(version.error());
    const std::int64_t found = version->number(0, 0);
    if (found > office_version) {
        return refused({.what = fmt::format("The tables of this office were made by a later version (tables {}, this program knows {}).", found,
                                            office_version),
                        .where = connection.where(),
                        .what_to_do = "Work with that version; nothing was changed.",
                        .kind = ProblemKind::Unreadable});
    }
    return found;
}

Result<int> migrate_office(Connection& connection) {
    const auto before = office_version_of(connection);
    if (!before) return refused(before.error());
    if (*before == office_version) return 0;
    auto transaction = OfficeTransaction::begun(connection);
    if (!transaction) return refused(transaction.error());
    if (*before == 0) {
        const auto foreign = connection.run(
            "SELECT 1 FROM information_schema.tables WHERE table_schema = current_schema() AND table_name = 'entry'");
        if (!foreign) return refused(foreign.error());
        if (foreign->count() > 0) {
            return refused({.what = "This database holds a table \"entry\" that is not of an office.",
                            .where = connection.where(),
                            .what_to_do = "Make a database of its own for the office: createdb --encoding=UTF8 office.",
                            .kind = ProblemKind::Refused});
        }
        if (auto made = connection.run_all("CREATE TABLE office_step(version BIGINT NOT NULL PRIMARY KEY)"); !made) return refused(made.error());
    }
    if (auto made = make_groups(connection); !made) return refused(made.error());
    int done = 0;
    for (const Step& step : all_steps) {
        if (step.version <= *before) continue;
        if (auto made = connection.run_all(std::string{step.statements}); !made) return refused(made.error());
        if (auto marked = connection.run("INSERT INTO office_step VALUES ($1)", Values{}.number(step.version)); !marked)
            return refused(marked.error());
        ++done;
    }
    if (auto kept = transaction->commit(); !kept) return refused(kept.error());
    return done;
}

}  // namespace wm::exchange
