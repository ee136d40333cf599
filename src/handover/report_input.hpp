// Everything the handover report prints, as plain values: no store, no clock, no judgement.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "drawing/canvas.hpp"
#include "figures/plant_figure.hpp"
#include "figures/series_chart.hpp"
#include "figures/tolerance_scale.hpp"
#include "handover/pdf_book.hpp"
#include "language/language.hpp"
#include "measure/outcome.hpp"

namespace wm::handover {

/// Dates and times are texts, best "2027-03-04" and "2027-03-04 09:10 +02:00". Page one writes such a day as the customer's
/// language does; all else prints them as they come.
/// Any text may be long: it wraps; only where a field says so must it be short.

enum class HandoverState {
    Full,
    Restricted,
    NotHandedOver,
    Practice  ///< nothing was fitted: no page may read as if it were
};

/// Whether the report goes with the handover, or is read back before it.
enum class Issue { HandedOver, Draft };

/// "full", "restricted", "not handed over".
[[nodiscard]] std::string_view in_words(HandoverState state);

struct LabelledLine {
    std::string label;
    std::string text;
};

struct CareDate {
    std::string date;
    std::string what;   ///< "first visit", "yearly service", "frost check"
    std::string key{};  ///< stable within the job: a calendar that is sent again moves this date
    std::string check_id{};  ///< of a deferred check; empty for care
};

/// What page one needs beyond the rest of the report. Its sentences are written here in `handover`
/// (page_one_words.hpp), so that they stay short; only names, dates and figures come from outside.
struct PageOne {
    HandoverState state = HandoverState::Full;  ///< of a draft: what it would be
    Issue issue = Issue::HandedOver;
    /// Titles of checks that guard people, apply and are not done, but those that restrict; at most
    /// three are named.
    std::vector<std::string> unproven;
    /// One short sentence each (at most 20 words); two are printed, the others counted.
    std::vector<std::string> restrictions;
    /// "Collector" / "glass box on the south roof, 2.0 m²"; at most 8. The text explains a label
    /// that is a trade word.
    std::vector<LabelledLine> fitted;
    std::string hottest_tap;             ///< "46 °C"; empty if not measured
    std::string hottest_allowed;         ///< "50 °C"
    std::vector<CareDate> care;          ///< in order of dates
    std::vector<LabelledLine> warranty;  ///< at most 3
    std::vector<LabelledLine> call;      ///< "Office" / "+00 555 0142"; at most 4
    std::string paper_proof;             ///< text of the square code, from paper_proof.hpp
    std::string fingerprint;             ///< 64 hexadecimal digits of the company root
    std::string fingerprint_published;   ///< where the company publishes it
    std::vector<std::string> questions;  ///< short: "the clock of a device jumped on 2027-03-04"
};

struct ReportReading {
    std::string text;  ///< as entered, with its unit
    std::string place, instrument, at, by;
    measure::Outcome outcome = measure::Outcome::Open;
    std::string note;  ///< "after correction", "read before its hold point: …"; mostly empty
};

struct ReportCheck {
    std::string id, title, question;
    measure::Outcome outcome = measure::Outcome::Open;
    std::string why;        ///< the sentence that explains the outcome
    std::string tolerance;  ///< "18 to 22 N·m"; empty if there is none
    std::string rule;       ///< guarded, simple, none
    std::string doubt;      ///< left where a reading was accepted, "Doubt left: 2.1 %."; or empty
    std::vector<std::string>
        derivation;  ///< how the tolerance came about, with this house's numbers
    std::vector<ReportReading> readings;
    bool hold = false;
    bool corrected = false;
    std::string severity;  ///< H, D, P, R
    std::vector<std::string> sources;
    std::optional<figures::ToleranceScale> scale;  ///< for one number
    std::optional<figures::SeriesChart> series;
};

struct ReportStage {
    std::string title;
    std::vector<ReportCheck> checks;
};

/// A check that did not conform at some time, whatever became of it. `done` and `proving` are empty
/// while it is open.
struct Nonconformity {
    std::string check_id, title, severity;
    std::string failing;  ///< reading with place, instrument and time
    std::string why;
    std::string done;
    std::string proving;  ///< the reading that shows it was put right
    bool withdrawn = false;  ///< taken back as a slip: on record, but nothing was wrong
};

struct ReportDeferral {
    std::string check_id, title, until, owner, why;
};
struct ReportConcession {
    std::string check_id, title, by, why;
};

/// The bytes come from photo::take_in; anything that does not decode is refused.
struct ReportPhoto {
    std::string jpeg;
    int width = 0;
    int height = 0;
    std::string caption;
};

struct ReportInstrument {
    std::string id, type, resolution, uncertainty, calibrated, due, certificate, pre_use;
};

/// `strokes` in millimetres on the pad; empty with `refused_because` if the person did not sign.
struct ReportSignature {
    std::string role, name, at;
    std::vector<std::vector<drawing::Point>> strokes;
    std::string refused_because;
    std::string reservations;  ///< the customer's own words
};

/// The last entry of a device's chain that went into this report.
struct ReportHead {
    std::string device, sequence, hash;
};

/// Heat from the sun in one month as a band, and the heat that is needed at most, in kWh.
struct ExpectedMonthBand {
    std::string name;  ///< "Jan"
    double low_kwh = 0.0;
    double high_kwh = 0.0;
    double needed_kwh = 0.0;
};

/// "What you may expect": an estimate, never a promise. Without months nothing could be estimated,
/// and left_out says why.
struct Expectation {
    std::vector<LabelledLine> year;  ///< "Heat from the sun" / "1100 to 1500 kWh of about 2000 kWh"
    std::vector<ExpectedMonthBand> months;
    std::vector<LabelledLine> today;            ///< what was measured today
    std::vector<std::string> see_for_yourself;  ///< how to see in a month whether it works
    std::vector<LabelledLine> assumptions;
    std::vector<std::string> left_out;
};

/// Where a figure of the report comes from.
struct FigureOrigin {
    std::string figure;    ///< "test pressure at the gauge", as the evidence calls it
    std::string equation;  ///< in words
    std::string source;    ///< edition and table, or that there is none
    std::string work_out;  ///< the computation that explains it further; may be empty
};

struct GlossaryTerm {
    std::string word, meaning;
};
struct ReportCaution {
    std::string title, text;
};

/// What a supplement says of the report it follows. The first report stays as it is.
struct ReportSupplement {
    int number = 1;                 ///< 1 is the first supplement
    std::string first_date;         ///< day of the first report
    std::string first_sha256;       ///< of its file
    std::string first_head;         ///< head of the record printed in it
    std::vector<std::string> done;  ///< "Taps again with a hot solar store: conforms"
    std::vector<std::string> left;  ///< "Store warms on the first clear day, until 2027-03-10"
};

struct ReportInput {
    std::string job;        ///< "J-07-0031"
    std::string title;      ///< "Solar water heater: handover report"
    std::string company;    ///< who issues it
    std::string place;      ///< "14 Dovetail Steps, Ostervaun"
    std::string date;       ///< of the handover
    Moment written;         ///< goes into the file and, as signing time, into the seal
    std::string checklist;  ///< name, version and hash, in one line
    std::string engine;     ///< program version

    std::optional<ReportSupplement> supplement;
    /// The customer's: of page one, what may be expected and the meanings of words. All else, and all that the record holds,
    /// is in the company's language, which is English.
    language::Language language;
    PageOne page_one;
    /// Page one in the company's language, which follows it; only where the two languages differ.
    std::optional<PageOne> company_page_one;
    figures::PlantShape plant;
    std::vector<LabelledLine> facts;
    std::vector<ReportStage> stages;
    std::vector<Nonconformity> nonconformities;
    std::vector<ReportDeferral> deferrals;
    std::vector<ReportConcession> concessions;
    Expectation expectation;
    std::vector<ReportPhoto> photos;
    std::vector<ReportInstrument> instruments;
    std::vector<ReportSignature> signatures;
    std::vector<ReportHead> heads;
    std::vector<std::string> record_notes;  ///< of the record itself: clocks that jumped, times given by hand, who took the job on
    std::vector<FigureOrigin> origins;
    std::vector<GlossaryTerm> glossary;
    std::vector<ReportCaution> cautions;

    PaperSize paper = PaperSize::A4;
    FontFiles fonts;
};

}  // namespace wm::handover
