// Everything a person can do, as values: window, command line and tests send the same ones.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace wm::desk {

/// One point of a drawn signature: millimetres on the pad, milliseconds since the pen first touched.
struct StrokePoint {
    double x_mm = 0.0;
    double y_mm = 0.0;
    int ms = 0;
};
using Stroke = std::vector<StrokePoint>;

struct OpenJob {
    std::string checklist;   ///< survey, kit, commissioning, service
    std::string facts_text;  ///< TOML
    std::string facts_name;  ///< file name for messages
    std::string after;       ///< earlier job whose facts are taken over; empty for none
    bool practice = false;   ///< kept out of the audit
    std::string note{};      ///< why this visit; kept locked, as a note on the job
};
struct StateFacts {
    std::string job;
    std::vector<std::pair<std::string, std::string>> facts;
};
/// An instrument for a job that is under way. With `type` empty the card that other jobs on this device have under the same
/// id is taken over; else the figures are those of its plate and certificate, with units, days as ISO.
struct RegisterInstrument {
    std::string job, id, type, resolution, uncertainty, calibrated_on, due, certificate;
};
struct TakeReading {
    std::string job, check, place, text, instrument;
    std::optional<std::string> photo;  ///< bytes of the picture file
    std::string photo_name;
    std::string caption;
    std::string read_at;  ///< RFC 3339, empty for now
    std::string by;       ///< person; empty for the crew lead of the job
    bool sure = false;    ///< the person was asked about an implausible value and stays with it
    bool said = false;  ///< with the main reading of a check, "yes" is kept for each part that is said with it and was not answered yet
    bool keep_position = false;  ///< the place that the camera wrote into the picture goes into the caption; else it is dropped
};
struct CorrectFault {
    TakeReading reading;
    std::string done;  ///< what was done, never empty
};
struct DeferCheck {
    std::string job, check, until, owner, why;
};
struct ConcedeCheck {
    std::string job, check, by, why;
};
struct UndoLast {
    std::string job;
};
struct ResolveConflict {
    std::string job, check, place, keep;  ///< keep: entry hash
};
enum class Signer { Crew, Customer };
struct Sign {
    std::string job;
    Signer role = Signer::Crew;
    std::string name;
    std::vector<Stroke> strokes;
    std::string refused_because;  ///< the customer does not sign, and says why
};
struct HandOver {
    std::string job;
};
/// The person works on a job from here on that another began.
struct TakeOverJob {
    std::string job;
    std::string by{};  ///< empty = who is at the desk
};
struct NoteNearMiss {
    std::string job, what;
};
struct AbandonJob {
    std::string job, left_safe, why;
};


/// Something the week found gets a cause, a remedy, an owner and a day.
struct DecideAction {
    std::string finding;  ///< its kind, as the week names it
    std::string subject, check, week;
    std::string cause;    ///< a word of the short list
    std::string cause_words, remedy, owner;
    std::string due;      ///< date
    std::string follows;  ///< an earlier action that did not help; empty = none
    std::string by;
};
struct CarryOutAction {
    std::string action;
    std::string on;  ///< date; empty = today
    std::string words, by;
};
/// Keeps what the figures say of an action now.
struct CheckEffect {
    std::string action;
    int after_days = 0;  ///< 30 or 90; 0 = the longest that has passed
    std::string by;
};
struct EndAction {
    std::string action, why, by;
};
struct DoubtInstrument {
    std::string instrument, from, until, as_found, why, by;
};
struct DoubtBatch {
    std::string batch, why, by;
};
/// A job to look at again becomes a service job after it.
struct OpenRevisit {
    std::string job, why;
};

/// The customer called: something at the house is not as it should be.
struct TakeComplaint {
    std::string job;      ///< of that house
    std::string symptom;  ///< a word of the list of symptoms
    std::string words{};  ///< the customer's own; kept locked
    std::string since{};  ///< date; empty = not told
    std::string air{};    ///< temperature outside, "-6 °C"; a bare number is in °C; empty = not told
    std::string by{};     ///< who took it; empty = who is at the desk
};
struct CloseComplaint {
    std::string job;
    std::string complaint;  ///< empty = the only one that is open
    std::string cause;      ///< a failure of the catalogue; empty = none of them
    std::string found;      ///< what it was, and what was done; never empty
    std::string check{};    ///< that proved it right
    std::string visit{};    ///< the job in which it was put right
    std::string by{};
};
/// The house is looked at again; the visit knows what was told and which checks to repeat.
struct VisitForComplaint {
    std::string job;
    std::string complaint;  ///< empty = the only one that is open
};

using Intent = std::variant<OpenJob, StateFacts, RegisterInstrument, TakeReading, CorrectFault, DeferCheck, ConcedeCheck,
                            UndoLast, ResolveConflict, Sign, HandOver, NoteNearMiss, AbandonJob,
                            DecideAction, CarryOutAction, CheckEffect, EndAction, DoubtInstrument,
                            DoubtBatch, OpenRevisit, TakeOverJob, TakeComplaint, CloseComplaint, VisitForComplaint>;

}  // namespace wm::desk
