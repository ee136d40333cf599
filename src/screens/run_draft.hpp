// What is half done on the run screen: the check at hand and what was typed for it.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "screens/plant_panel.hpp"
#include "screens/series_panel.hpp"

namespace wm::screens {

/// The picture of the folder whose look is on its way.
struct LookAsked {
    std::string path;
    int folder_looks = 0;  ///< World::folder_looks when it was asked for
    std::string folder_for{};  ///< the photo check for which the folder was looked at
    bool shows_pictures = false;  ///< in place of the question, where both have no room
};

/// What the check panel shows in place of the plain reading.
enum class RunMode {
    Reading,
    Correcting,
    Deferring,
    Conceding,
    Photo,
    Help,
    Record,
    More,
    Facts,
    Stages,
    Plant,
    NearMiss,
    Leaving,
    Parts,      ///< what the store puts together
    House,      ///< all facts, known and unknown
    Instrument  ///< one more instrument for this job
};

struct DeferDraft {
    std::string until, owner, why;
};
struct ConcedeDraft {
    std::string by, why;
};
struct LeaveDraft {
    std::string left_safe, why;
};
struct InstrumentDraft {
    std::string id, type, resolution, uncertainty, due;
};

/// What was typed or chosen and not saved when the person turned elsewhere.
struct Unsaved {
    std::string value, unit, instrument;
    std::string done, caption, photo_path;
    RunMode mode = RunMode::Reading;  ///< or Correcting
};

/// A job and check that were asked for and are not open yet.
struct WantedCheck {
    std::string job, check;
    RunMode mode = RunMode::Reading;  ///< in which it is opened
};

/// What was sent to be saved, until it is known to be safe: a refusal gives it back.
struct SentEntry {
    std::string check, place, value, text, done, caption, photo_path;
    RunMode mode = RunMode::Reading;
    std::optional<SeriesRun> run;
    bool was_on_its_way = false;
    int after = 0;  ///< World::answered when it was sent: a fast disk answers between two frames
};

/// What was saved last: shown for a while beside the next check.
struct Receipt {
    std::string check, title, place, text;
    measure::Outcome outcome = measure::Outcome::Open;  ///< of the place that was read, else of the check
    bool whole = false;                                 ///< nothing of the check is left to read
    std::string saved{};                                ///< World::saved_mark as of then
    std::string fallen{};                               ///< another check that does not conform since, and why
};

/// A fact on its way to the desk: it comes back if it is refused.
struct SentFact {
    std::string key, text;
    int after = 0;  ///< World::answered as of then
    RunMode mode = RunMode::Facts;
    bool was_on_its_way = false;
};

struct RunDraft {
    std::optional<SentFact> sent_fact;
    std::optional<Receipt> receipt;
    std::vector<std::string> trail;  ///< checks that were left by going on, oldest first
    bool wants_sign_off = false;     ///< Next was pressed where nothing is left to do
    KeptNumber kept;                       ///< what the disk holds of the value
    std::optional<KeptNumber> from_before; ///< a value that was being typed when the window ended
    std::optional<SentEntry> sent;
    std::vector<std::string> failing;  ///< checks that do not conform, as of before an entry was sent
    int answered = 0;  ///< World::answered as of the last frame
    std::optional<WantedCheck> wanted;
    std::string job;
    std::string check;
    std::string place;
    RunMode mode = RunMode::Reading;
    std::string value;  ///< typed, not yet saved
    std::string unit;   ///< that the instrument shows, if it is not the unit of the check
    std::string letters;  ///< typed behind the figures and no unit that is known here: asked about before the value is saved
    std::string instrument;
    std::map<std::pair<std::string, std::string>, Unsaved> unsaved;  ///< by check and place
    std::string unsaved_of;     ///< job they belong to
    bool from_earlier = false;  ///< the value was typed before and came back; the next digit begins anew
    std::string go_to;          ///< a check that is gone to with the next frame
    std::string out_of_turn;    ///< the check whose reading is meant although it waits for a hold point
    bool list_asked = false;    ///< what the sheet shows was asked for since it was opened
    desk::TickPlace tick_place = desk::TickPlace::Store;  ///< where parts are being ticked
    std::string changed_part;   ///< of which is being written what came in its place
    std::string changed_words;
    InstrumentDraft added;
    std::string house_fact;     ///< key of the fact that is being stated in the list of all
    std::map<std::string, SeriesDraft> unsaved_series;  ///< by check
    std::string stood_at;       ///< check and place as of the last frame
    std::string places_looked_at; ///< the place the list of places was last scrolled to, and how high the list was
    int places_look_frames = 0;   ///< frames in which it still has to be scrolled there
    bool follows_undo = false;  ///< Undo was pressed: its check is gone to when it is known
    bool went_on = false;       ///< the run went on by itself in this frame
    bool verdict_came = false;  ///< and has not been shown from its beginning yet
    bool save_asked = false;  ///< Save was pressed before it was known what the value would mean
    std::string done;  ///< what was done, of a correction
    std::string photo_path;
    LookAsked look_asked;
    std::string caption;
    std::optional<AskPreview> asked;
    bool said_asked = false;  ///< what is said with the figure stands to be read
    bool sure = false;  ///< the person looked again at an implausible value
    DeferDraft defer;
    ConcedeDraft concede;
    LeaveDraft leave;
    std::string near_miss;
    std::string fact;  ///< text for the fact that is missing
    SeriesDraft series;
    PlantDraft plant;
};

/// Takes over where one went, and nothing of what was entered on the way.
void move_about(RunDraft& draft, const RunDraft& looked);

/// Goes to a check. A number that was typed and not saved is kept with its place, and back when the person is.
void go_to_check(RunDraft& draft, const desk::CheckView& check);

/// The check at hand, or nullptr when the job has none.
[[nodiscard]] const desk::CheckView* check_at_hand(const desk::JobView& job, const RunDraft& draft);

/// The place at hand, or nullptr for a check without places.
[[nodiscard]] const desk::PlaceView* place_at_hand(const desk::CheckView& check,
                                                   const RunDraft& draft);

/// What has to be entered now: the form of the place, else of the check.
[[nodiscard]] desk::EntryForm form_at_hand(const desk::CheckView& check, const RunDraft& draft);

/// Asks for the check at hand, the value that is being typed and the words of a correction to be kept, when they changed.
/// Called once a frame.
void keep_typed(const desk::JobView& job, const desk::CheckView& check, RunDraft& draft, Requests& requests);

/// As it can stand in a line of the file: breaks and tabs become blanks.
[[nodiscard]] std::string in_one_line(std::string words);

/// To another place of the check at hand; numbers are kept as above.
void go_to_place(RunDraft& draft, const std::string& place);

/// Gives back what was refused. What is saved becomes the receipt, is told by ear, and where the whole check conforms the
/// run goes on to what is useful next. Called once a frame.
void look_after_sent(const World& world, RunDraft& draft, std::vector<SeriesRun>& runs, Requests& requests);

/// On to a check, remembering the one that is left.
void go_on_to(RunDraft& draft, const desk::CheckView& check);
/// Back to the check that was left last; false where nothing is remembered.
bool go_back(RunDraft& draft, const desk::JobView& job);

/// A failed reading waits for the word of what was done, also where a later one conforms; what the tool works out has none.
[[nodiscard]] bool may_correct(const desk::CheckView& check);

/// To the place that needs a correction, if the one at hand does not.
void go_to_fault(RunDraft& draft, const desk::CheckView& check);

/// The instruments of the job that can show what is entered now: those of the part at hand, else of the check; and their
/// type, empty where none is needed.
[[nodiscard]] const std::vector<desk::InstrumentView>& instruments_at_hand(const desk::CheckView& check, const RunDraft& draft);
[[nodiscard]] const std::string& instrument_type_at_hand(const desk::CheckView& check, const RunDraft& draft);

/// The instrument of what is entered now; of a part one of its own type, or empty.
[[nodiscard]] std::string instrument_at_hand(const desk::CheckView& check, const RunDraft& draft);

/// What is typed, with the unit the instrument shows.
[[nodiscard]] std::string typed_text(const RunDraft& draft);

/// Where the run stands, check and place; and whether it came there with this frame.
[[nodiscard]] inline std::string stands_at(const RunDraft& draft) { return draft.check + '/' + draft.place; }
[[nodiscard]] inline bool just_came(const RunDraft& draft) { return draft.stood_at != stands_at(draft); }

/// What stands beside the reading at hand and is kept with it as a yes: the parts that are said with the main reading.
[[nodiscard]] std::vector<std::string> said_with(const desk::CheckView& check, const RunDraft& draft);

/// Why no answer can be given yet while a fault is put right.
inline constexpr std::string_view say_first = "First write what was done about it.";

/// Puts the entered text into the intent the mode asks for, and clears what was typed.
void save_reading(const desk::CheckView& check, std::string text, RunDraft& draft,
                  Requests& requests);

}  // namespace wm::screens
