// What a screen, a command or a report needs to know, as plain values without behaviour.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "desk/complaint_view.hpp"
#include "figures/plant_figure.hpp"
#include "measure/outcome.hpp"

namespace wm::desk {

using measure::Outcome;

/// Limits of one number check in `unit`; a missing side is open.
struct LimitsView {
    std::string text;  ///< "18 to 22 N·m"
    std::string unit;
    std::optional<double> low, high, accept_low, accept_high, target;
    std::string rule = "none";         ///< guarded, simple, none
    std::vector<std::string> how;      ///< how the limit came about, with this house's numbers
};

struct ReadingView {
    std::string entry;  ///< hash of the entry
    std::string text;   ///< as entered
    std::optional<double> value;
    std::string unit, place, instrument, at, by, corrects;
    Outcome outcome = Outcome::Open;
    std::string why;
    std::string done;  ///< what was done, when it is a correction
    std::vector<std::string> photos;
    bool superseded = false;
    bool undone = false;
    bool out_of_order = false;
    std::vector<std::string> blocked_by;  ///< hold points that did not conform yet when it was taken
    bool time_by_hand = false;  ///< the entry's time was given by hand
    std::string entered_at{};   ///< where `at` is another time than that of the entry
};

enum class EntryForm { YesNo, Choice, Number, Series, Text, Photo, Signature, None };

struct InstrumentView {
    std::string id, type, label, due;
    std::string uncertainty;  ///< as text, k = 2
    bool in_date = true;
};

struct PlaceView {
    std::string name;      ///< "" for the one main value
    std::string question;  ///< of a part; empty for a plain place
    std::string instrument_type;              ///< of a part; empty where none is needed
    std::vector<InstrumentView> instruments;  ///< of a part: those of that type, registered for the job
    EntryForm form = EntryForm::None;
    std::string unit;
    std::vector<std::string> accepted, refused;  ///< answers of a choice
    bool required = true;
    std::string said;  ///< of a part: what the main reading says with it, as long as the part was not answered
    Outcome outcome = Outcome::Open;
    std::string why;
    std::string text;  ///< latest reading as entered
    LimitsView limits;
};

struct CautionView {
    std::string id, title, text;
};

struct DeferralView {
    std::string until, owner, why;
};

struct CheckView {
    std::string id, stage, title, question, why_it_matters, how, pitfall, on_fail, evidence;
    std::string kind;  ///< the word of the checklist
    EntryForm form = EntryForm::None;
    bool core = false;
    bool hold = false;
    bool applies = true;
    bool blocking = false;  ///< stands against signing now
    std::string severity;   ///< H, D, P, R
    std::string licence;
    std::vector<CautionView> cautions;
    std::vector<std::string> sources;  ///< in words
    Outcome outcome = Outcome::Open;
    std::string why;
    std::optional<double> probability_conforming;
    LimitsView limits;
    std::string unit;
    int decimals = 1;
    std::optional<double> plausible_low, plausible_high;
    std::string instrument_type;
    std::vector<InstrumentView> instruments;  ///< of this type, registered for the job
    std::vector<PlaceView> places;
    std::vector<std::string> accepted, refused;  ///< answers of a choice
    std::vector<std::string> channels, extras;
    int every_s = 0;     ///< of a series: seconds between readings
    int duration_s = 0;  ///< of a series
    std::string measurand;  ///< in words, what number of the series is judged
    std::vector<ReadingView> readings;
    std::vector<std::string> waits_for;  ///< hold points not yet conforming
    std::vector<std::string> missing_facts;
    std::vector<std::string> missing_words;  ///< what each missing fact means
    std::vector<std::string> beforehand;     ///< what the tool works out before anything is read
    std::string photo;  ///< none, wanted, required
    std::vector<std::string> defer_reasons;
    int defer_days = 0;
    std::optional<DeferralView> deferral;
    std::string concession;  ///< why and by whom; empty for none
    bool may_be_conceded = false;
    bool failed_once = false;
    int uncorrected = 0;  ///< readings that failed, of which nothing says what was done
    bool conflict = false;
};

struct StageView {
    std::string id, title;
    int minutes = 0;
    int done = 0;
    int total = 0;
};

struct BlockerView {
    std::string check, outcome, why;
};

struct FactView {
    std::string key, text, meaning;
    bool personal = false;
    std::string unit{};  ///< of a plain number; empty where the text has its own
    std::vector<std::string> choices{};  ///< the words to choose from; empty for anything else
};

struct JobRow {
    std::string job, checklist, kind, place, crew, started, state;
    std::string customer;  ///< name, if the key is there
    int open = 0;
    int failed = 0;
    bool practice = false;
    std::string after{};  ///< number of the earlier job at this house; empty = none
    std::string due{};  ///< the earliest day that something put off waits for; empty if nothing does
    int complaints = 0;  ///< told of this job, taken-back ones left out
    int complaints_open = 0;
    std::string day{};  ///< on which the crew comes, of a job that is open; empty where none is set
};

/// A check that was put off.
struct DueView {
    std::string job, place, check, title, until, owner, why;
    int days = 0;  ///< until then; below zero it is overdue
};

struct SignatureView {
    std::string role, name, at, refused_because;
};

/// Who took a job on, from whom, and when.
struct TakenOverView {
    std::string by, from, at;
};

struct JobView {
    JobRow row;
    std::string with{};  ///< whose job it is, where the person at the desk is not of its crew; else empty
    std::vector<TakenOverView> taken_over{};
    std::string checklist_version, checklist_hash;
    std::vector<FactView> facts;
    std::vector<FactView> unknown_facts;  ///< what a house may be asked beside them, in the order of the facts file
    figures::PlantShape plant{};          ///< drawn by the window and by the report
    std::vector<StageView> stages;
    std::vector<CheckView> checks;
    std::vector<BlockerView> blockers;
    std::vector<std::string> restrictions;  ///< what a handover now would be restricted by
    std::vector<SignatureView> signatures;
    std::vector<std::string> questions;  ///< asked of people: implausible facts, a clock that jumped
    std::string head;
    std::string report_sha256;
    std::string handed_over_at;
    bool supplement_due = false;  ///< something came in since the last report
    std::vector<std::string> strangers{};  ///< sentences on devices that wrote into it and are not ours; among the questions too
    std::vector<std::string> times{};  ///< sentences on times that no clock gave
    int times_by_hand = 0;             ///< entries with such a time
    std::vector<std::string> notes{};  ///< why this visit, as the office wrote it; oldest first
};

/// What was taken back: "the reading of Earth reaches the heater", and the check it belongs to ("" for a signature).
struct UndoneView {
    std::string words, check;
};

/// The answer to one reading.
struct Answer {
    std::string check;
    std::string place;
    Outcome outcome = Outcome::Open;        ///< of the check after the whole intent
    Outcome place_outcome = Outcome::Open;  ///< of this reading alone
    std::string why;                        ///< of this reading
    std::optional<double> probability_conforming;
    std::string entry;
    std::vector<std::string> blocked_by;
    bool no_evidence = false;  ///< kept, but it proves nothing: an instrument past its date
};

/// What a value would mean, before it is saved.
/// A holding test as a line, while it runs: rates a minute in the unit of the check, a fall positive.
struct TrendView {
    double drop = 0.0, low = 0.0, high = 0.0, surely_below = 0.0, allowed = 0.0;
    std::string words;
};

struct Preview {
    Outcome outcome = Outcome::Open;
    std::string why;
    std::optional<double> value;         ///< in the unit of the check
    std::vector<std::string> warnings;   ///< out by ten, stuck digit, implausible
    LimitsView limits;
    bool needs_sure = false;
    std::optional<TrendView> trend;
};

struct MessageView {
    std::string message, to, subject, state, state_words, next_try, last_answer, job;
    int tries = 0;
};

/// One line of a week: failures of tries, with the Wilson interval of the share.
struct ShareView {
    std::string name;   ///< the check, crew or batch the row is about
    std::string check;  ///< of a crew or batch; empty for all its checks together
    int failed = 0;
    int tries = 0;
    double share = 0.0, low = 0.0, high = 1.0;
    std::vector<std::string> jobs;
    int inconclusive = 0;  ///< of the tries: the first reading could not tell; no failure
    std::string words{};   ///< what the row is about as people say it: titles instead of ids
};

struct SevereView {
    std::string job, check, outcome;
    bool corrected = false;
    std::string title{};  ///< of the check
};
struct OpenItemView {
    std::string job, check, owner, what;
    int age_days = 0;
    std::string title{};  ///< of the check
};
struct FindingView {
    std::string kind, subject, check, sentence;
    double p = 1.0, q = 1.0;
    int failed = 0, tries = 0, others_failed = 0, others_tries = 0;
    std::vector<std::string> jobs;
    std::string what_to_do{};
    std::vector<std::string> actions{};  ///< numbers of the corrective actions that are open for it
    std::optional<double> low{}, high{}, others_low{}, others_high{};  ///< of both shares, Wilson, 95 %; none where they are no shares
    std::string compared_with{};         ///< what it is held against, in words
    std::optional<std::vector<std::string>> others_jobs{};  ///< that failed there; none where they cannot be told apart
};
/// Put to people before anyone concludes: equal readings, pace, one photo twice, neighbours that
/// differ, what came back.
struct WeekQuestionView {
    std::string kind, subject, check, sentence, what_to_do;
    std::vector<std::string> jobs;
};
/// A complaint of the week, or one that is still open, with what it leads back to.
struct WeekComplaintView {
    std::string job, complaint, symptom, symptom_words, told_on, air;
    std::string survey, commissioning;  ///< jobs of the same house; empty = none on record
    bool is_open = true;
    int age_days = 0;                   ///< as of the last day of the week
    std::vector<OpenItemView> unproved{};  ///< checks that could have caught it and prove nothing; `what` says why
};
/// How long the deferrals of a crew stay open.
struct AgeingView {
    std::string crew;
    int put_off = 0, open = 0, forgotten = 0, oldest_days = 0;
    std::optional<double> median_days;
    std::vector<std::string> jobs;
    double low = 0.0, high = 1.0;  ///< of the share forgotten of those put off, Wilson, 95 %
};
/// A pressure gauge beside the others of the same streets.
/// One reading of a gauge beside those of the others of its street.
struct GaugePointView {
    std::string day;
    double difference_kpa = 0.0;
    double sum = 0.0;     ///< the cumulative sum after it, in deviations: the larger side, downward with a minus
    bool beyond = false;  ///< of 5
    std::string job{};
};
struct GaugeView {
    std::string instrument;
    int readings = 0;
    double recent_kpa = 0.0, highest = 0.0;
    std::string signal_since;  ///< day; empty = its sum never passed 5 deviations
    double p = 1.0;
    double scatter_kpa = 0.0;              ///< standard deviation of single differences, all gauges
    std::vector<GaugePointView> points{};  ///< oldest first
    double low_kpa = 0.0, high_kpa = 0.0;  ///< of recent_kpa, 95 %, by the scatter of all gauges
    std::vector<std::string> jobs{};       ///< it was read in, by number
};
struct SampleView {
    std::string job, why;
    std::string revisit{};  ///< number of a later job at the same house; empty = none yet
    std::string narrows{};  ///< which interval the visit makes narrower, from what to what; empty = none
};

/// What an action did to the share of failures, counted so many days after it was carried out.
struct EffectView {
    int after_days = 0;  ///< 30 or 90
    std::string told_on;  ///< the day on which that many days have passed
    bool is_due = false;
    bool recorded = false;
    int before_failed = 0, before_tries = 0, after_failed = 0, after_tries = 0;
    std::optional<double> difference, low, high;  ///< share before less share after, 95 %
    std::string verdict;   ///< "it helped", "no proof yet", "it got worse"
    std::string sentence;  ///< the figures behind the verdict
};

/// A corrective action, from its finding to its effect.
struct ActionView {
    std::string action, finding, subject, check, title, week, cause, cause_words, remedy, owner, due;
    std::string decided_on, done_on, done_words, follows, ended_because;
    std::string state;  ///< "decided", "overdue", "carried out", "effect to be checked", "it helped", "ended without proof"
    bool is_closed = false;
    int age_days = 0;  ///< since it was decided, as of the last day of the week
    std::vector<EffectView> effects;  ///< of 30 and 90 days, once it is carried out
};

/// A word for a cause, and what it means.
struct CauseView {
    std::string cause, meaning;
};

/// A check that tells too little, or cannot be answered well.
struct HealthView {
    std::string check, title, kind, sentence, proposal;
    int tries = 0;
    std::vector<std::string> jobs{};  ///< behind the sentence, newest first, at most 50
};

/// A share of failures in one week, with its centre and limits.
struct WeekPointView {
    std::string week;
    int failed = 0, tries = 0;
    double share = 0.0, centre = 0.0, low = 0.0, high = 0.0;
    bool signals = false;
    std::vector<std::string> jobs{};  ///< with a failure
};
/// Crews by how many results they have; the limits belong to a number of tries.
struct FunnelPointView {
    std::string name;
    int failed = 0, tries = 0;
    double share = 0.0;
    bool outside = false;  ///< of the 99.8 % limits
    std::vector<std::string> jobs{};  ///< with a failure
    double low = 0.0, high = 1.0;     ///< of the share, Wilson, 95 %
};
struct FunnelLimitView {
    double tries = 0.0, low95 = 0.0, high95 = 0.0, low998 = 0.0, high998 = 0.0;
};
struct FunnelView {
    double target = 0.0;  ///< share of all
    double spread = 1.0;  ///< how much wider than chance the limits are, at least 1
    std::vector<FunnelPointView> points;
    std::vector<FunnelLimitView> limits;
};

/// One reading that an instrument or a batch of parts stands behind.
struct TraceRowView {
    std::string job, place, customer, check, title, where, text, day, outcome;
    bool hold = false;
    std::string severity;
};
struct TraceJobView {
    std::string job, place, customer, state;
    int results = 0;
    int severe = 0;       ///< of these of severity H
    std::string letter;   ///< drafted; empty where the customer is erased or unknown
    std::string revisit;  ///< number of a later job at the same house; empty = none yet
};
/// What hangs on an instrument or a batch.
struct TraceView {
    std::string kind;     ///< "instrument", "batch"
    std::string subject, from, until, sentence;
    int results = 0;
    std::vector<TraceRowView> rows;  ///< oldest first
    std::vector<TraceJobView> jobs;  ///< most that can hurt someone first
    bool doubted = false;            ///< it is on record that it is not to be trusted
};

/// A rule for aimed samples that cannot be followed, and why.
struct RuleLeftOutView {
    std::string failure, rule, because;
};

/// What a week is looked at for; empty does not matter.
struct WeekFilterView {
    std::string crew{}, check{}, roof{}, kind{}, batch{}, instrument{}, street{};
    int weeks = 1;  ///< so many up to the week are counted

    friend bool operator==(const WeekFilterView&, const WeekFilterView&) = default;
};
/// A name, and how people call it.
struct WeekChoiceView {
    std::string name, words;
};
struct WeekChoicesView {
    std::vector<WeekChoiceView> crews, checks, roofs, kinds, batches, instruments, streets;
};

struct WeekView {
    std::string week;
    int jobs = 0;
    int results = 0;
    int inconclusive = 0;  ///< results whose first reading could not tell, apart from the failures
    std::vector<std::string> looked_at{};  ///< the jobs that are counted
    std::vector<ShareView> failed, by_crew, by_batch;
    std::vector<SevereView> severe;
    std::vector<OpenItemView> open;
    std::vector<FindingView> findings;
    std::vector<WeekQuestionView> questions{};
    std::vector<WeekComplaintView> complaints{};  ///< open ones first, oldest first
    std::vector<AgeingView> ageing{};
    std::vector<GaugeView> gauges{};
    std::vector<SampleView> samples;
    int finished = 0;     ///< jobs handed over in the week: what the sample by lot is drawn from
    std::string seed{};   ///< of that draw
    std::vector<RuleLeftOutView> rules_left_out{};  ///< of the samples that are aimed at
    std::vector<std::string> weeks;  ///< weeks that hold results, oldest first
    std::map<std::string, std::string> places{};  ///< street of each job named here
    std::vector<std::string> damaged{};  ///< entries that could not be read, and so are not counted
    std::vector<ActionView> actions{};   ///< open ones first, oldest first; then those closed in this week
    std::vector<CauseView> causes{};     ///< the short list a cause is chosen from
    std::vector<HealthView> health{};
    std::vector<WeekPointView> trend{};  ///< share of failures of all results, week by week
    std::optional<FunnelView> funnel{};
    WeekFilterView filter{};
    WeekChoicesView choices{};           ///< what a filter may name
};

/// "J-07-0031, Kettlemark Row": a number alone sends nobody to a house.
[[nodiscard]] inline std::string job_and_place(const WeekView& week, const std::string& job) {
    const auto place = week.places.find(job);
    return place == week.places.end() || place->second.empty() ? job : job + ", " + place->second;
}

struct SettingsView {
    std::string company, company_contact, fingerprint, fingerprint_published;
    std::string data_folder, device, mail_server, mail_from;
    bool keys_sealed = false;
    std::string not_exchanged{};  ///< what would be lost with this device, as sentences
};

}  // namespace wm::desk
