// Taking a bundle into the office's record; the rest of office_store.hpp.
#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <tuple>

#include "digest/hash.hpp"
#include "exchange/office_inside.hpp"
#include "record/state.hpp"

namespace wm::exchange {
namespace {

using record::Written;

tl::unexpected<Problem> not_taken(std::string what, const std::string& name, std::string to_do) {
    return refused({.what = std::move(what), .where = name, .what_to_do = "Nothing was taken. " + to_do, .kind = ProblemKind::Refused});
}

/// What the database has of the stretches of a bundle: one question for each device instead of one for each entry.
class Kept {
public:
    explicit Kept(Connection& connection) : connection_{connection} {}

    Result<void> look_up(const std::vector<Written>& entries) {
        std::map<std::string, std::pair<std::int64_t, std::int64_t>> spans;
        for (const Written& written : entries) {
            const auto seq = written.entry.seq;
            auto& span = spans.try_emplace(written.entry.device, seq, seq).first->second;
            span = {std::min(span.first, seq), std::max(span.second, seq)};
        }
        for (const auto& [device, span] : spans) {
            const auto rows = connection_.run("SELECT seq, hash, time FROM entry WHERE device = $1 AND seq >= $2 AND seq <= $3",
                                              Values{}.text(device).number(span.first - 1).number(span.second));
            if (!rows) return refused(rows.error());
            if (rows->count() == 0 && span.first == 1) strangers_.push_back(device);
            for (int row = 0; row < rows->count(); ++row) times_.emplace(std::tuple{device, rows->number(row, 0), rows->text(row, 1)}, rows->text(row, 2));
        }
        return {};
    }

    [[nodiscard]] store::KnownEntries known() {
        return {.time_of = [this](const record::Head& entry) -> Result<std::optional<std::string>> {
                    const auto found = times_.find({entry.device, entry.seq, entry.hash});
                    return found == times_.end() ? std::nullopt : std::optional{found->second};
                },
                .last_before = [this](const std::string& device, std::int64_t seq) -> Result<std::int64_t> {
                    const auto row = connection_.run("SELECT max(seq) FROM entry WHERE device = $1 AND seq < $2", Values{}.text(device).number(seq));
                    if (!row) return refused(row.error());
                    return row->number(0, 0);
                }};
    }

    [[nodiscard]] const std::vector<std::string>& strangers() const { return strangers_; }

private:
    Connection& connection_;
    std::map<std::tuple<std::string, std::int64_t, std::string>, std::string> times_;
    std::vector<std::string> strangers_;
};

constexpr std::size_t rows_at_once = 500;

/// `rows` rows of `columns` values each, `put` binding those of one row.
template <class Items, class Put>
Result<std::size_t> insert(Connection& connection, const std::string& table, std::size_t columns, const std::string& then, const Items& items,
                           const Put& put) {
    std::size_t inserted = 0;
    for (std::size_t first = 0; first < items.size(); first += rows_at_once) {
        const std::size_t count = std::min(rows_at_once, items.size() - first);
        Values values;
        for (std::size_t i = first; i < first + count; ++i)
            if (auto bound = put(values, items[i]); !bound) return refused(bound.error());
        const auto done = connection.run("INSERT INTO " + table + " VALUES " + places_for(count, columns) + then, values);
        if (!done) return refused(done.error());
        inserted += static_cast<std::size_t>(done->changed());
    }
    return inserted;
}

Result<void> insert_entries(Connection& connection, const std::vector<Written>& fresh) {
    const auto done = insert(connection, "entry", 7, "", fresh, [](Values& values, const Written& written) -> Result<void> {
        const auto& entry = written.entry;
        const auto body = record::body_text(entry.body);
        if (!body) return refused(body.error());
        values.text(entry.device).number(entry.seq).text(entry.prev).text(written.hash).text(entry.time).text(entry.job).text(*body);
        return {};
    });
    if (!done) return refused(done.error());
    return {};
}

Result<std::set<std::string>> column(Connection& connection, const std::string& sql) {
    const auto rows = connection.run(sql);
    if (!rows) return refused(rows.error());
    std::set<std::string> all;
    for (int row = 0; row < rows->count(); ++row) all.insert(rows->text(row, 0));
    return all;
}

/// What of persons is left when the erased are left out.
template <class Item>
std::vector<Item> without(const std::vector<Item>& items, const std::set<std::string>& erased) {
    std::vector<Item> kept;
    for (const Item& item : items)
        if (!erased.contains(item.customer)) kept.push_back(item);
    return kept;
}

/// Whose jobs the new entries open. A number that another crew has already would show each the other's rows.
Result<void> give_jobs(Connection& connection, const std::vector<Written>& fresh, const std::map<std::string, std::string>& crews,
                       const std::string& name) {
    for (const Written& written : fresh) {
        const auto crew = crews.find(written.entry.device);
        if (!std::holds_alternative<record::JobOpened>(written.entry.body) || crew == crews.end()) continue;
        const auto taken = [&] {
            return not_taken(fmt::format("Job {} is another crew's, and a tablet of {} opened it too.", written.entry.job, crew->second), name,
                             "Let a lead look whose it is.");
        };
        const auto there = connection.run("SELECT crew FROM crew_job WHERE job = $1", Values{}.text(written.entry.job));
        if (!there) return refused(there.error());
        if (there->count() > 0) {
            if (there->text(0, 0) != crew->second) return taken();
            continue;
        }
        const auto put = connection.run("INSERT INTO crew_job VALUES ($1, $2)", Values{}.text(written.entry.job).text(crew->second));
        if (!put && connection.refusal() == Refusal::Exists) return taken();  // a row that this role does not see
        if (!put) return refused(put.error());
    }
    return {};
}

/// Said before the database says it, and in words that help; the policies would refuse the same.
Result<void> is_of_crew(Connection& connection, const std::vector<Written>& fresh, const std::string& role, const std::string& name) {
    const auto own = column(connection, "SELECT job FROM crew_job");
    if (!own) return refused(own.error());
    for (const Written& written : fresh) {
        if (!written.entry.job.empty() && !own->contains(written.entry.job))
            return not_taken(fmt::format("Job {} is no job of {}.", written.entry.job, role), name, "Let a lead take this bundle in.");
        if (std::holds_alternative<record::CustomerErased>(written.entry.body))
            return not_taken("It erases a customer, which is a lead's.", name, "Let a lead take this bundle in.");
    }
    return {};
}

/// Rows that stand beside the entries.
struct Beside {
    const Contents& contents;
    const std::set<std::string>& erased;
    const std::map<std::string, std::string>& crews;
    std::string crew;  ///< of the bundle's maker
};

Result<std::size_t> insert_beside(Connection& connection, const Beside& all, bool is_crew) {
    const auto words = insert(connection, "personal", 4, " ON CONFLICT (commitment) DO NOTHING", without(all.contents.words, all.erased),
                              [&](Values& values, const store::LockedWords& each) -> Result<void> {
                                  values.text(each.commitment).text(each.customer).bytes(each.box).text(all.crew);
                                  return {};
                              });
    if (!words) return words;
    // One by one: ten photos are a megabyte.
    for (const store::LockedFile& file : without(all.contents.files, all.erased)) {
        const auto done = connection.run("INSERT INTO attachment VALUES ($1, $2, $3, $4) ON CONFLICT (id) DO NOTHING",
                                         Values{}.text(file.id).text(file.customer).bytes(file.bytes).text(all.crew));
        if (!done) return refused(done.error());
    }
    for (const record::SignedHead& head : all.contents.heads) {
        if (is_crew && !all.crews.contains(head.head.device)) continue;
        const auto done = connection.run(
            "INSERT INTO head SELECT device, seq, hash, $4, $5 FROM entry WHERE device = $1 AND seq = $2 AND hash = $3 "
            "ON CONFLICT (device, seq, hash) DO NOTHING",
            Values{}.text(head.head.device).number(head.head.seq).text(head.head.hash).bytes(head.public_key).bytes(head.signature));
        if (!done) return refused(done.error());
    }
    return insert(connection, "pin", 2, " ON CONFLICT (hash) DO NOTHING", all.contents.pins, [](Values& values, const std::string& list) -> Result<void> {
        values.text(digest::sha256_hex(list)).bytes(list);
        return {};
    });
}

Result<void> erase(Connection& connection, const std::set<std::string>& customers) {
    for (const std::string& customer : customers)
        for (const char* sql : {"DELETE FROM personal WHERE customer = $1", "DELETE FROM attachment WHERE customer = $1",
                                "INSERT INTO erased VALUES ($1) ON CONFLICT (customer) DO NOTHING"})
            if (auto done = connection.run(sql, Values{}.text(customer)); !done) return refused(done.error());
    return {};
}

}  // namespace

Result<OfficeTaken> OfficeStore::Inside::take_once(const Contents& contents, const std::string& sha256, const OfficeTakeRequest& request,
                                                   std::set<std::string>& jobs) {
    OfficeTaken taken;
    auto transaction = OfficeTransaction::begun(connection);
    if (!transaction) return refused(transaction.error());
    const auto before = connection.run("SELECT 1 FROM bundle WHERE sha256 = $1", Values{}.text(sha256));
    if (!before) return refused(before.error());
    if (before->count() > 0) {
        taken.was_known = true;
        return taken;
    }
    const auto whose = crews();
    if (!whose) return refused(whose.error());
    for (const Written& written : contents.entries) {
        if (is_crew && !whose->contains(written.entry.device))
            return not_taken(fmt::format("It holds entries of device {}, which is not one of {}.", written.entry.device.substr(0, 8), role),
                             request.name, "Let a lead take it in, or give the device to this crew.");
    }
    Kept kept{connection};
    if (auto looked = kept.look_up(contents.entries); !looked) return refused(looked.error());
    const auto known = kept.known();
    auto joined = store::joined(contents.entries, known);
    if (!joined) {
        Problem problem = joined.error();
        if (problem.where == "bundle") problem.where = request.name;
        return refused(std::move(problem));
    }
    auto erased = column(connection, "SELECT customer FROM erased");
    if (!erased) return refused(erased.error());
    std::set<std::string> newly_erased;
    for (const Written& written : joined->fresh)
        if (const auto* gone = std::get_if<record::CustomerErased>(&written.entry.body); gone != nullptr && erased->insert(gone->customer).second)
            newly_erased.insert(gone->customer);
    if (auto given = give_jobs(connection, joined->fresh, *whose, request.name); !given) return refused(given.error());
    if (is_crew)
        if (auto fine = is_of_crew(connection, joined->fresh, role, request.name); !fine) return refused(fine.error());
    if (auto done = insert_entries(connection, joined->fresh); !done) return refused(done.error());
    const auto maker = whose->find(contents.maker);
    const std::string crew = is_crew ? role : maker == whose->end() ? "" : maker->second;
    const auto lists = insert_beside(connection, {contents, *erased, *whose, crew}, is_crew);
    if (!lists) return refused(lists.error());
    if (auto done = erase(connection, newly_erased); !done) return refused(done.error());
    const auto noted = connection.run("INSERT INTO bundle VALUES ($1, $2, $3, $4, $5) ON CONFLICT (sha256) DO NOTHING",
                                      Values{}.text(sha256).text(request.name).number(static_cast<std::int64_t>(joined->fresh.size())).text(request.at).text(crew));
    if (!noted) return refused(noted.error());
    if (auto done = transaction->commit(); !done) return refused(done.error());
    taken.new_entries = joined->fresh.size();
    taken.known_entries = joined->known;
    taken.checklists = *lists;
    taken.new_devices = kept.strangers();
    for (const Written& written : joined->fresh)
        if (!written.entry.job.empty()) jobs.insert(written.entry.job);
    return taken;
}

Result<OfficeTaken> OfficeStore::take(std::string_view bytes, const OfficeTakeRequest& request) {
    const auto contents = contents_of(bytes, request.name);
    if (!contents) return refused(contents.error());
    const std::string sha256 = digest::sha256_hex(bytes);
    // Who takes in the same stretch beside us commits first; then it is known here.
    constexpr int tries = 8;
    std::set<std::string> jobs;
    Result<OfficeTaken> taken = refused({});
    for (int i = 0; i < tries; ++i) {
        taken = inside_->take_once(*contents, sha256, request, jobs);
        const Refusal why = inside_->connection.refusal();
        if (taken || taken.error().kind == ProblemKind::Refused || (why != Refusal::Again && why != Refusal::Exists)) break;
    }
    if (!taken && inside_->connection.refusal() == Refusal::Exists)
        return not_taken("Some of it stands here already, where this role may not see it.", request.name, "Let a lead take this bundle in.");
    if (!taken) return taken;
    for (const std::string& job : jobs) {
        const auto entries = read_job(job, store::Keys::none());
        if (!entries) continue;
        for (const auto& [id, check] : record::folded(job, entries->entries).checks)
            for (const record::Conflict& conflict : check.conflicts) taken->conflicts.push_back({job, id, conflict.place});
    }
    return taken;
}

}  // namespace wm::exchange
