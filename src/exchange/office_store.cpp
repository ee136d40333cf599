#include "exchange/office_store.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "exchange/office_inside.hpp"
#include "exchange/office_steps.hpp"

namespace wm::exchange {

OfficeStore::OfficeStore(std::unique_ptr<Inside> inside) : inside_{std::move(inside)} {}
OfficeStore::OfficeStore(OfficeStore&&) noexcept = default;
OfficeStore& OfficeStore::operator=(OfficeStore&&) noexcept = default;
OfficeStore::~OfficeStore() = default;

int OfficeStore::steps_done() const { return inside_->steps_done; }
const std::string& OfficeStore::role() const { return inside_->role; }
const std::string& OfficeStore::where() const { return inside_->connection.where(); }
bool OfficeStore::is_gone() const { return inside_->connection.refusal() == Refusal::Gone; }

std::string places_for(std::size_t rows, std::size_t columns) {
    std::string text;
    std::size_t place = 0;
    for (std::size_t row = 0; row < rows; ++row) {
        text += row == 0 ? "(" : ",(";
        for (std::size_t column = 0; column < columns; ++column) text += fmt::format("{}${}", column == 0 ? "" : ",", ++place);
        text += ")";
    }
    return text;
}

Result<OfficeStore> OfficeStore::opened(const std::string& conninfo) {
    auto connection = Connection::opened(conninfo);
    if (!connection) return refused(connection.error());
    auto inside = std::make_unique<Inside>();
    inside->connection = std::move(*connection);
    const auto done = migrate_office(inside->connection);
    if (!done) return refused(done.error());
    inside->steps_done = *done;
    // Membership as it was given: who owns the server counts as a member of everything.
    const auto groups = inside->connection.run(
        "SELECT current_user, (SELECT count(*) FROM pg_auth_members AS m JOIN pg_roles AS g ON g.oid = m.roleid JOIN pg_roles AS r ON "
        "r.oid = m.member WHERE g.rolname = $1 AND r.rolname = current_user)",
        Values{}.text(crew_group));
    if (!groups) return refused(groups.error());
    inside->role = groups->text(0, 0);
    inside->is_crew = groups->number(0, 1) > 0;
    return OfficeStore{std::move(inside)};
}

Result<std::map<std::string, std::string>> OfficeStore::Inside::crews() {
    const auto rows = connection.run("SELECT device, crew FROM crew_device");
    if (!rows) return refused(rows.error());
    std::map<std::string, std::string> crews;
    for (int row = 0; row < rows->count(); ++row) crews.emplace(rows->text(row, 0), rows->text(row, 1));
    return crews;
}

namespace {

/// A role is named in statements that take no values, so its name is plain: small letters, digits and _.
Result<void> check_name(std::string_view name) {
    const auto is_plain = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_'; };
    constexpr std::size_t longest = 40;
    const bool fine = !name.empty() && name.size() <= longest && name.front() >= 'a' && name.front() <= 'z' &&
                      std::all_of(name.begin(), name.end(), is_plain) && !name.starts_with("pg_") && name != crew_group && name != lead_group;
    if (fine) return {};
    return refused({.what = fmt::format("\"{}\" is no name for a role.", name),
                    .where = "--role",
                    .what_to_do = "Write small letters, digits and _, a letter first, 40 at most: crew_north.",
                    .kind = ProblemKind::WrongUse});
}

Result<void> make_role(Connection& connection, OfficeRole role, std::string_view name) {
    const std::string_view group = role == OfficeRole::Crew ? crew_group : lead_group;
    const auto member = connection.run(
        "SELECT 1 FROM pg_auth_members AS m JOIN pg_roles AS g ON g.oid = m.roleid JOIN pg_roles AS r ON r.oid = m.member "
        "WHERE g.rolname = $1 AND r.rolname = $2",
        Values{}.text(group).text(name));
    if (!member) return refused(member.error());
    if (member->count() > 0) return {};
    const auto quoted = connection.quoted_name(name);
    if (!quoted) return refused(quoted.error());
    const auto there = connection.run("SELECT rolsuper FROM pg_roles WHERE rolname = $1", Values{}.text(name));
    if (!there) return refused(there.error());
    if (there->count() > 0 && there->text(0, 0) == "t") {
        return refused({.what = fmt::format("{} is the owner of the whole server, whom no rule of rows binds.", name),
                        .where = connection.where(),
                        .what_to_do = "Choose a name of its own for the role.",
                        .kind = ProblemKind::Refused});
    }
    if (there->count() == 0)
        if (auto made = connection.run_all(fmt::format("CREATE ROLE {} LOGIN", *quoted)); !made) return made;
    return connection.run_all(fmt::format("GRANT {} TO {}", group, *quoted));
}

Result<std::string> device_named(const std::vector<record::Head>& heads, const std::string& named) {
    std::set<std::string> meant;
    constexpr std::size_t shortest = 8;
    for (const record::Head& head : heads)
        if (head.device == named || (named.size() >= shortest && head.device.starts_with(named))) meant.insert(head.device);
    if (meant.size() == 1) return *meant.begin();
    return refused({.what = fmt::format("{} device here is called \"{}\".", meant.empty() ? "No" : "More than one", named),
                    .where = "--device",
                    .what_to_do = "Take a bundle of it in first, and write its id as the office names it then.",
                    .kind = ProblemKind::Unreadable});
}

}  // namespace

Result<std::vector<std::string>> OfficeStore::put_role(OfficeRole role, std::string_view name, const std::vector<std::string>& devices) {
    if (auto fine = check_name(name); !fine) return refused(fine.error());
    Connection& connection = inside_->connection;
    auto transaction = OfficeTransaction::begun(connection);
    if (!transaction) return refused(transaction.error());
    if (auto made = make_role(connection, role, name); !made) return refused(made.error());
    const auto heads = inside_->heads();
    if (!heads) return refused(heads.error());
    std::vector<std::string> given;
    for (const std::string& named : devices) {
        auto device = device_named(*heads, named);
        if (!device) return refused(device.error());
        const auto put = connection.run(
            "INSERT INTO crew_device VALUES ($1, $2) ON CONFLICT (device) DO UPDATE SET crew = EXCLUDED.crew", Values{}.text(*device).text(name));
        if (!put) return refused(put.error());
        const auto chain = inside_->entries("WHERE device = $1", Values{}.text(*device));
        if (!chain) return refused(chain.error());
        for (const record::Written& written : chain->entries) {
            const auto* opened = std::get_if<record::JobOpened>(&written.entry.body);
            if (opened == nullptr) continue;
            const auto job = connection.run("INSERT INTO crew_job VALUES ($1, $2) ON CONFLICT (job) DO UPDATE SET crew = EXCLUDED.crew",
                                            Values{}.text(written.entry.job).text(name));
            if (!job) return refused(job.error());
            for (const char* sql : {"UPDATE personal SET crew = $1 WHERE customer = $2", "UPDATE attachment SET crew = $1 WHERE customer = $2"})
                if (auto done = connection.run(sql, Values{}.text(name).text(opened->customer)); !done) return refused(done.error());
        }
        given.push_back(std::move(*device));
    }
    if (auto kept = transaction->commit(); !kept) return refused(kept.error());
    return given;
}

}  // namespace wm::exchange
