// The desk: intents come in, journal entries or a problem come out. Everything a person can do
// passes here, from the window, the command line and the tests alike.
#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "audit/columns.hpp"
#include "desk/in_hand.hpp"
#include "desk/intent.hpp"
#include "desk/job_list.hpp"
#include "desk/library.hpp"
#include "desk/moment.hpp"
#include "desk/view.hpp"
#include "handover/report_input.hpp"
#include "problem/result.hpp"
#include "record/clock_watch.hpp"
#include "store/journal.hpp"
#include "store/people.hpp"

namespace wm::desk {

enum class Access { Write, Read };

/// What the desk may not find out by itself.
struct Setup {
    std::filesystem::path data;       ///< made if missing
    LibraryTexts library;
    std::function<Moment()> now;
    store::RandomBytes random;
    std::string company = "Witnessmark";
    std::string company_contact;      ///< one line: telephone, address of the web page
    std::string fingerprint_published;  ///< where the company publishes its fingerprint
    std::string mail_from = "office@witnessmark.example";
    Access access = Access::Write;
    std::string stamp_server;  ///< http(s):// of a stamp server (RFC 3161); "" for none
    handover::PaperSize paper = handover::PaperSize::A4;  ///< of the reports
    std::string stamp_ca;      ///< a certificate file to trust for it; "" for those of the system
    store::Disk* disk = nullptr;  ///< outlives the desk; null = the machine's
    std::string sealing_key = {};  ///< what the person's PIN gave; empty while keys are not sealed
    std::optional<store::Person> person = std::nullopt;  ///< who gave the PIN; none without PINs
    std::filesystem::path backups = {};   ///< folder of the backups; empty = backups/ in `data`
    std::string backup_passphrase = {};   ///< locks the signing keys in a backup; may be empty
    /// What the machine counted since its start, to see whether the wall clock was moved; nothing where
    /// it is not watched.
    std::function<std::optional<record::SinceBoot>()> since_boot = {};
    /// Hand where `now` is no clock; the entries then say so.
    record::TimeSource time_source = record::TimeSource::Clock;
    std::int64_t patience_ms = 0;         ///< how long to wait while another program writes
    handover::FontFiles fonts = {};       ///< of every page that is made
    /// By their codes, "de"; English needs none. A customer whose language is not there is written to in English.
    std::map<std::string, language::Language, std::less<>> languages = {};
};

/// Whose a device is; see devices.hpp.
enum class DeviceStanding { ThisOne, Ours, Accepted, Refused, Unknown };

struct TakeShownReading;  // shown_reading.hpp

/// What handing over gave.
struct HandedOverView {
    std::string report;   ///< the sealed PDF
    std::string sha256;
    std::string state;    ///< full, restricted
    std::string message;  ///< id of the queued message; empty without an address
    int supplement = 0;   ///< its number; 0 for the report itself
    std::string unstamped;  ///< why the seal has no time stamp although a server is set; "" if it has
};

class Desk {
public:
    [[nodiscard]] static Result<Desk> open(Setup setup);

    // --- intents: each is one transaction --------------------------------------------------------
    /// The number of the new job.
    [[nodiscard]] Result<std::string> carry_out(const OpenJob& intent);
    [[nodiscard]] Result<void> carry_out(const StateFacts& intent);
    /// One answer per place that was read. A value outside the plausible range is refused (kind
    /// Unreadable) unless `sure`; a reading against the order is kept and says what it ran ahead of.
    [[nodiscard]] Result<std::vector<Answer>> carry_out(const TakeReading& intent);
    [[nodiscard]] Result<std::vector<Answer>> carry_out(const CorrectFault& intent);
    /// The same for what an instrument sent, with its bytes as evidence.
    [[nodiscard]] Result<std::vector<Answer>> carry_out(const TakeShownReading& intent);
    [[nodiscard]] Result<void> carry_out(const DeferCheck& intent);
    [[nodiscard]] Result<void> carry_out(const ConcedeCheck& intent);
    [[nodiscard]] Result<UndoneView> carry_out(const UndoLast& intent);
    /// Readings that named the instrument before it was known are judged again.
    [[nodiscard]] Result<void> carry_out(const RegisterInstrument& intent);
    [[nodiscard]] Result<void> carry_out(const ResolveConflict& intent);
    [[nodiscard]] Result<void> carry_out(const Sign& intent);
    [[nodiscard]] Result<HandedOverView> carry_out(const HandOver& intent);
    /// Refused for somebody else than who is at the desk, and for who is of the crew already.
    [[nodiscard]] Result<void> carry_out(const TakeOverJob& intent);
    [[nodiscard]] Result<void> carry_out(const NoteNearMiss& intent);
    [[nodiscard]] Result<void> carry_out(const AbandonJob& intent);
    /// The number of the new action, "A-1A2B-0003". Refused without cause, remedy, owner and day.
    [[nodiscard]] Result<std::string> carry_out(const DecideAction& intent);
    [[nodiscard]] Result<void> carry_out(const CarryOutAction& intent);
    /// The verdict that is now on record. Refused before the days have passed.
    [[nodiscard]] Result<std::string> carry_out(const CheckEffect& intent);
    [[nodiscard]] Result<void> carry_out(const EndAction& intent);
    /// How many readings became no evidence; the checks that stood on them are open again.
    [[nodiscard]] Result<int> carry_out(const DoubtInstrument& intent);
    [[nodiscard]] Result<void> carry_out(const DoubtBatch& intent);
    /// The number of the service job that looks at the house again; the one that is there already
    /// while it is open.
    [[nodiscard]] Result<std::string> carry_out(const OpenRevisit& intent);
    /// The number of the complaint, "C-1A2B-00123". Unreadable: a symptom that is not of the list, a day or a temperature
    /// that is none.
    [[nodiscard]] Result<std::string> carry_out(const TakeComplaint& intent);
    /// Refused while no complaint is open, and where several are and none is named.
    [[nodiscard]] Result<void> carry_out(const CloseComplaint& intent);
    /// The number of the visit, which says what was told and which checks to repeat; the one that is open already
    /// gets the same note.
    [[nodiscard]] Result<std::string> carry_out(const VisitForComplaint& intent);
    /// Deletes key, words, photos and mails of the customer of a job, in all jobs of that house. The
    /// chain still verifies and the figures of the week stay as they are.
    [[nodiscard]] Result<void> erase_customer(const std::string& job);
    /// What a try to send a message came to; see outbox.hpp.
    [[nodiscard]] Result<void> record_try(const std::string& job, record::MessageTried tried);

    // --- views -----------------------------------------------------------------------------------
    /// By number. Only jobs that changed since the last look, also that of an earlier start, are read.
    [[nodiscard]] Result<std::vector<JobRow>> job_rows();
    [[nodiscard]] Result<JobView> job_view(const std::string& job);
    /// What the value would mean, without writing anything.
    [[nodiscard]] Result<Preview> preview(const TakeReading& intent);
    [[nodiscard]] Result<JobInHand> in_hand(const std::string& job);
    /// All jobs, folded: for the week.
    [[nodiscard]] Result<std::vector<record::JobState>> all_states();
    /// What every job counts for in the week; made anew only of what changed since the last look, also
    /// that of an earlier start. Holds until the next intent or look.
    [[nodiscard]] Result<const audit::Columns*> audit_columns();
    /// Sentences on entries that could not be read, of all jobs looked into so far.
    [[nodiscard]] std::vector<std::string> damaged() const;
    /// The report as it would be printed now, unsealed.
    [[nodiscard]] Result<std::string> draft_report(const std::string& job);
    /// The sealed report of a job that was handed over, as it was kept. Refused before that.
    /// Issue 1 is the report, 2 its first supplement; the newest if none is named.
    [[nodiscard]] Result<std::string> sealed_report(const std::string& job, std::optional<int> issue = std::nullopt);
    /// What was put off and waits for its day, over all jobs but practice; the earliest first.
    [[nodiscard]] Result<std::vector<DueView>> due();
    /// Page one as paragraphs, to be read to the customer before signing.
    [[nodiscard]] Result<std::vector<std::string>> page_one(const std::string& job);

    /// Unknown for a device of which nothing is here. Looked up anew when another program wrote, or as told.
    [[nodiscard]] Result<DeviceStanding> standing_of(const std::string& device);
    void forget_standings();

    [[nodiscard]] store::Journal& journal() { return journal_; }
    [[nodiscard]] const store::Journal& journal() const { return journal_; }
    [[nodiscard]] const Setup& setup() const { return setup_; }
    [[nodiscard]] const checklist::Library& library() const { return *library_; }
    /// From here on jobs are opened with these lists; refused, and nothing changed, where one cannot be read.
    [[nodiscard]] Result<void> use_lists(LibraryTexts texts);

private:
    Desk(Setup setup, store::Journal journal, std::shared_ptr<const checklist::Library> library)
        : setup_{std::move(setup)}, journal_{std::move(journal)}, library_{std::move(library)} {}

    [[nodiscard]] Result<std::shared_ptr<const checklist::Library>> library_of(const std::string& pin);
    [[nodiscard]] Result<std::shared_ptr<const record::JobState>> state_of(const std::string& job);
    /// Appends and folds in what was written: `job` then stands as the journal does.
    [[nodiscard]] Result<std::vector<record::Written>> append(JobInHand& job, std::vector<record::Draft> drafts);
    void forget(const std::string& job);
    /// A job was written to and the head was `head_before`.
    void note_written(const std::string& job, const std::string& head_before);
    [[nodiscard]] Result<ListedJob> row_made_of(const store::JobLine& line);
    [[nodiscard]] Result<void> look_through_jobs();
    [[nodiscard]] Result<bool> count_again(const store::JobLine& line);
    [[nodiscard]] Result<handover::ReportInput> report_for(const JobInHand& hand);
    [[nodiscard]] Result<std::vector<Answer>> record_reading(const TakeReading& intent, const std::string* done,
                                                             const std::string* evidence = nullptr);

    Setup setup_;
    store::Journal journal_;
    std::shared_ptr<const checklist::Library> library_;
    std::map<std::string, std::shared_ptr<const checklist::Library>, std::less<>> pinned_;
    std::map<std::string, std::shared_ptr<record::JobState>, std::less<>> states_;
    std::map<std::string, std::shared_ptr<const ReadFacts>, std::less<>> facts_;
    std::map<std::string, std::vector<std::string>, std::less<>> damaged_;  ///< of jobs that did not read whole
    ListedJobs listed_;
    std::map<std::string, DeviceStanding, std::less<>> standings_;
    std::optional<std::int64_t> standings_version_;  ///< none: not looked at yet
    int told_of_clocks_ = 0;  ///< by the journal, as of the states at hand
    std::set<std::string> touched_;                ///< jobs written to since the last look at the list
    std::optional<std::int64_t> listed_version_;   ///< none: the list was not looked at yet
    std::int64_t listed_erasures_ = 0;
    audit::Columns audited_;
    std::map<std::string, std::string, std::less<>> audited_after_;  ///< the entry each job was counted after
    std::optional<std::int64_t> audited_version_;  ///< none: nothing was counted yet
    std::string audited_head_;                     ///< our head at the last look
    std::int64_t audited_erasures_ = 0;
    std::string listed_after_;                     ///< our head at the last look, or after what `touched_` names
};

}  // namespace wm::desk
