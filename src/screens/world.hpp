// What the screens are shown and what they ask for, as plain values.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "desk/day_plan.hpp"
#include "desk/pick_list.hpp"
#include "desk/intent.hpp"
#include "desk/register_table.hpp"
#include "desk/view.hpp"
#include "desk/workshop_view.hpp"
#include "problem/problem.hpp"
#include "screens/series_run.hpp"
#include "screens/small_picture.hpp"
#include "screens/theme.hpp"

namespace wm::screens {

/// Ask what a value would mean before it is saved. The answer comes with a later World.
struct AskPreview {
    std::string job, check, place, text, instrument;
    friend bool operator==(const AskPreview&, const AskPreview&) = default;
};
struct OpenJobView {
    std::string job;
};
struct AskWeek {
    std::string week;  ///< "2027-W09"; empty for the latest that holds results
    desk::WeekFilterView filter{};
};
/// What hangs on an instrument or a batch; one of the two is named.
struct AskTrace {
    std::string instrument, from, until, batch;
};
struct SendPost {};
/// All waiting messages as mail files in the folder the app chooses.
struct SavePost {};
/// The picture is read from the file and put into the reading of the intent, then it is done.
struct WithPhoto {
    desk::Intent intent;  ///< TakeReading or CorrectFault
    std::string path;
};
/// A job from a facts file, which the app reads.
struct StartJob {
    std::string checklist, facts_path, after;
    bool practice = false;
};
/// Running series, to be kept across a restart.
struct KeepSeries {
    std::vector<SeriesRun> runs;
};
/// Where a person is and what is half typed there, to be kept across an end in the middle of it; without a job: nothing.
/// The words may be about people: they lie in one file of the data folder, which an erasure removes, until they are saved.
struct KeptNumber {
    std::string job, check, place, value, unit, instrument;
    std::string form = "reading";               ///< what is filled in: form_word of its RunMode, or one of those below
    std::map<std::string, std::string> words{};  ///< by field of the form; without control signs
    friend bool operator==(const KeptNumber&, const KeptNumber&) = default;
};
/// Check and form of what was written outside a check: the name of a signer, a customer's call. No id of a check has a blank.
inline constexpr std::string_view signing_words = "sign off";
inline constexpr std::string_view call_words = "take a call";
inline constexpr std::string_view closing_words = "close a call";
struct KeepNumber {
    KeptNumber number;
};
/// What is told by ear beside shape and word.
enum class Tone { Conforms, DoesNotConform, Inconclusive, Due };
struct RingTone {
    Tone tone = Tone::Due;
    std::string check;
};
enum class Sound { On, Off };
enum class PicturePlace { LeftOut, Kept };
/// Whether the place that a camera wrote into its pictures goes into their captions.
struct ChoosePicturePlace {
    PicturePlace place = PicturePlace::LeftOut;
};
/// The folder whose pictures are offered; a path of PhotoPlace.
struct ChoosePhotoFolder {
    std::string path;
};
struct ChooseSound {
    Sound sound = Sound::On;
};
struct ChooseLook {
    Look look = Look::Day;
};
struct ChooseTextSize {
    int percent = 100;
};
struct ChooseScale {
    float px_per_mm = 3.78F;  ///< measured on the glass with the ruler of the settings
};
/// Looks again for facts files and pictures.
struct AskFiles {};
/// How a picture of the folder looks. Asked for one after the other: what is saved meanwhile waits for one at most.
struct AskLookOf {
    std::string path;
};
/// What the store puts together for a job, on the screen or as a sheet to print.
struct AskParts {
    std::string job;
};
struct SaveParts {
    std::string job;
};
/// The jobs of the days from one to another, on the screen or as a calendar file.
struct AskPlan {
    std::string first, last;
};
struct SavePlan {
    std::string first, last;
};
/// The sealed report of a job that was handed over, as a file.
struct SaveReport {
    std::string job;
};
/// What customers told of the house of a job, and what is likely behind it.
struct AskComplaints {
    std::string job;
};
/// A table of the quality lead.
struct AskRegister {
    desk::Register which = desk::Register::Instruments;
};
/// Opens the lock: the person is at work from here on.
struct Unlock {
    std::string name, pin;
};
/// Locks: by a key, or by itself after the idle time. What is half done stays as it is.
struct LockWindow {};
struct ChooseLockTime {
    int minutes = 10;  ///< 0 = the window never locks by itself
};
/// A PIN for a person, or another one. `own_pin` is of who is at work; empty before the first PIN.
struct GivePin {
    std::string own_pin, name, role, pin;
};
struct TakePinAway {
    std::string own_pin, name;
};
struct ProblemUnderstood {};
struct Quit {};

using Request = std::variant<desk::Intent, AskPreview, OpenJobView, AskWeek, AskTrace, SendPost, SavePost,
                             WithPhoto, StartJob, KeepSeries, KeepNumber, RingTone, ChooseLook,
                             ChooseTextSize, ChooseScale, ChooseSound, ChoosePicturePlace, ChoosePhotoFolder, AskFiles, AskLookOf, desk::DraftStep, AskParts, SaveParts, AskPlan, SavePlan, SaveReport, AskComplaints, AskRegister,
                             Unlock, LockWindow, ChooseLockTime, GivePin, TakePinAway, ProblemUnderstood, Quit>;
using Requests = std::vector<Request>;

/// One line of text, and back; nullopt for anything else.
[[nodiscard]] std::string written(const KeptNumber& number);
[[nodiscard]] std::optional<KeptNumber> read_number_kept(std::string_view text);

struct PreviewOf {
    AskPreview asked;
    desk::Preview preview;
};

/// Times of one moment. The screens never read a clock.
struct Moment {
    std::string now;           ///< RFC 3339 with offset
    std::int64_t epoch_s = 0;  ///< the same in seconds, for running series
    double monotonic_s = 0.0;  ///< for strokes and held keys
};

/// Somebody with a PIN.
struct PersonLock {
    std::string name;
    std::string role;               ///< "installer", "lead", "owner"
    std::int64_t not_before_s = 0;  ///< after wrong PINs: when the next may be tried, as Moment::epoch_s
};
/// Who may use the window, once persons have PINs.
struct LockView {
    std::vector<PersonLock> people;  ///< empty = nobody has a PIN and nothing is locked
    std::string person;              ///< who is at work; empty = nobody
    int unlocked = 0;                ///< how often the lock was opened since the start
    int answers = 0;                 ///< PINs and changes answered since the start
    std::string answer;              ///< the last answer in words; empty where an Unlock was right
    bool refused = false;            ///< the last answer was no
    std::optional<int> minutes{};    ///< chosen since the start: when it locks by itself; 0 = never
};

/// A folder that pictures can be chosen from.
struct PhotoPlace {
    std::string path;  ///< empty: the pictures of the data folder
    std::string words;
};
/// Where pictures were looked for.
struct PhotoFolders {
    std::string folder;             ///< whose pictures are shown
    bool is_own = true;             ///< it is that of the data folder
    std::vector<PhotoPlace> there;  ///< to choose from, that of the data folder first
    std::string gone;               ///< chosen, and cannot be read now; empty otherwise
    bool more = false;              ///< not all of its pictures are shown
};

struct World {
    Moment moment;
    LockView lock;
    int lock_minutes = 10;  ///< as chosen; 0 = never
    std::vector<desk::JobRow> jobs;
    int jobs_look = 0;   ///< another number with every change of jobs
    bool no_week = false;  ///< the audit was asked for, and nothing is there to be counted
    bool listed = true;  ///< false until jobs and messages were read for the first time
    std::optional<desk::JobView> job;
    std::optional<KeptNumber> typed;  ///< half typed when the window last ended; taken up once
    std::vector<desk::MessageView> messages;
    std::optional<desk::WeekView> week;
    std::optional<desk::TraceView> trace;  ///< the answer to the last AskTrace
    desk::SettingsView settings;
    std::optional<PreviewOf> preview;
    std::vector<std::string> checklists;   ///< names that a job can be started with
    std::vector<std::string> facts_files;  ///< paths offered for a new job
    std::vector<std::string> photo_files;  ///< newest first
    std::map<std::string, SharedPicture> photo_looks;  ///< by path, those that were asked for since the folder was looked at
    int folder_looks = 0;  ///< how often it was looked at
    PhotoFolders photos;
    Sound sound = Sound::On;
    PicturePlace picture_place = PicturePlace::LeftOut;
    std::optional<std::pair<desk::Register, desk::RegisterTable>> registers;
    std::optional<desk::ListDraftView> list_draft;  ///< the checklist on the lead's bench
    int list_draft_looks = 0;                       ///< how often it came
    std::optional<desk::PickListView> parts;  ///< as last asked for
    std::optional<desk::DayPlan> plan;        ///< likewise
    std::optional<desk::ComplaintSheetView> complaints;  ///< of the house last asked for
    std::vector<std::string> page_one;     ///< the customer's page of the open job, as paragraphs
    std::string saved_mark;                ///< "saved 14:02:11"; empty while something waits
    bool saving = false;                   ///< an intent is on its way to the disk
    int answered = 0;                      ///< requests the desk has carried out or refused since the start
    std::optional<std::pair<int, std::string>> undone;  ///< answered as of it, and the check whose entry was taken back
    std::string facts_folder;  ///< where facts files are looked for
    std::optional<Problem> problem;        ///< until the person has read it
    int problem_at = 0;                    ///< World::answered as of the request that brought it
    std::string report_file;               ///< where the report was put that was asked for last

    /// True where the problem came after that many requests were answered; an older one says nothing of what was sent since.
    [[nodiscard]] bool refused_since(int answers) const { return problem && problem_at > answers; }
};

}  // namespace wm::screens
