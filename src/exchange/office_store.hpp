// The office's record: the entries of all crews in PostgreSQL, taken in from bundles, read for the week.
//
// The same entries table as in a data folder, with the same bytes and the same checks; the office writes no entry of its
// own here, so it needs no key. Words and files of persons lie locked as they came. office_steps.cpp holds the tables and
// who may see what: a crew's role adds and sees its own jobs, a lead's all, and the database itself refuses the rest.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "exchange/bundle.hpp"
#include "problem/result.hpp"
#include "record/chain.hpp"
#include "store/journal.hpp"
#include "store/keys.hpp"

namespace wm::exchange {

struct OfficeTaken {
    bool was_known = false;  ///< this very bundle was taken in before; nothing else is filled in then
    std::size_t new_entries = 0;
    std::size_t known_entries = 0;
    std::size_t checklists = 0;             ///< pinned ones that were not here before
    std::vector<ConflictFound> conflicts;   ///< in jobs that this bundle touched
    std::vector<std::string> new_devices;   ///< ids of devices whose entries came here for the first time
};

struct OfficeTakeRequest {
    std::string name;  ///< of the bundle, for messages
    std::string at;    ///< now, as it is to be kept
};

/// What does not hang on one job.
struct OfficeRead {
    std::vector<record::Written> stream;   ///< entries without a job, in_order()
    std::vector<record::Head> heads;       ///< the last entry of every chain, several of a forked one
    std::vector<store::JobLine> jobs;      ///< by number
    std::vector<std::string> damaged;      ///< sentences on rows that are missing or were altered
};

enum class OfficeRole { Crew, Lead };

class OfficeStore {
public:
    /// Connects and brings the tables up to this program's version. Kind NotStored where the server is away.
    [[nodiscard]] static Result<OfficeStore> opened(const std::string& conninfo);
    OfficeStore(OfficeStore&&) noexcept;
    OfficeStore& operator=(OfficeStore&&) noexcept;
    ~OfficeStore();

    /// How many steps the tables were brought up by at the opening.
    [[nodiscard]] int steps_done() const;
    /// The role of the connection, and the database, for messages.
    [[nodiscard]] const std::string& role() const;
    [[nodiscard]] const std::string& where() const;
    /// The connection ended; nothing more can be done with this one.
    [[nodiscard]] bool is_gone() const;

    /// Takes a bundle whole in one transaction, or leaves everything as it was: the checks are those of unpack(). Any
    /// order, any number of times. Obeys erasures. A crew's role may bring its own devices and jobs alone.
    [[nodiscard]] Result<OfficeTaken> take(std::string_view bytes, const OfficeTakeRequest& request);

    /// The last entry of every chain that the role may see.
    [[nodiscard]] Result<std::vector<record::Head>> heads();
    /// As store::Journal::read_job(): the entries of one job, with those of the stream that concern every job.
    [[nodiscard]] Result<store::Entries> read_job(std::string_view job, const store::Keys& keys);
    /// Everything at one moment. `job` is told each job in turn, by number, with its entries as read_job() gives them;
    /// what it refuses ends the reading.
    using EachJob = std::function<Result<void>(const store::JobLine& line, store::Entries entries)>;
    [[nodiscard]] Result<OfficeRead> read_all(const store::Keys& keys, const EachJob& job);

    /// Makes the role if there is none, and gives a crew these devices (ids, or their first eight or more letters) with
    /// all jobs that were opened on them. The roles themselves are an owner's to make; devices may be given by a lead.
    /// Gives the whole ids.
    [[nodiscard]] Result<std::vector<std::string>> put_role(OfficeRole role, std::string_view name,
                                                            const std::vector<std::string>& devices);

private:
    struct Inside;
    explicit OfficeStore(std::unique_ptr<Inside> inside);
    std::unique_ptr<Inside> inside_;
};

}  // namespace wm::exchange
