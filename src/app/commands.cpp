#include "app/commands.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "app/manual.hpp"
#include "app/usage.hpp"
#include "app/workout_command.hpp"

namespace wm::app {

namespace {

Output work_out(const Arguments& arguments, const World&) { return run_work_out(arguments); }

std::string overview() {
    std::string text =
        "Witnessmark records the commissioning of solar preheaters: every check, reading and correction,\n"
        "a sealed handover report, and the week's audit. It advises; local codes and licensed people decide.\n\n"
        "witnessmark                opens the window\n";
    for (const auto& command : command_table()) text += std::string{command.usage};
    text += "\nOptions may stand before or after the form. --data DIR chooses the data folder, --json prints one\n"
            "JSON document, --at TIME fixes the clock of this call. witnessmark FORM --help says more.\n"
            "Exit: 0 done, 1 the answer is no, 2 wrong use, 3 cannot be read, 4 cannot store or send.\n";
    return text;
}

std::string help_for(const Command& command) {
    std::string text = fmt::format("{}\n{}\n", command.usage, command.does);
    const auto listed = [&](std::string_view title, const std::vector<const Option*>& options) {
        if (!options.empty()) text += fmt::format("\n{}\n", title);
        for (const auto* option : options)
            text += fmt::format("  {:<26} {}\n", fmt::format("--{}{}{}", option->name, option->takes_value() ? " " : "", option->value),
                                option->meaning);
    };
    listed("Options:", options_of(command));
    listed("Of every form:", options_of_all_forms());
    return text;
}

}  // namespace

const std::vector<Command>& command_table() {
    static const std::vector<Command> table = {
        {"job",
         "witnessmark job new --checklist NAME --facts FILE.toml|--no-facts [--after JOB] [--practice]\n"
         "witnessmark job list | job show JOB | job facts JOB --set NAME=VALUE …\n"
         "witnessmark job instrument JOB --id ID [--type T --uncertainty U --resolution R --cal-date D --cal-due D --cert C]\n"
         "witnessmark job take-over JOB [--by NAME] | job report JOB --out FILE.pdf [--issue N | --draft]\n",
         "Opens a job from the facts of a house, lists jobs, shows one whole, or states facts later; job report\n"
         "writes the sealed report of a job that was handed over once more, the same bytes: the newest issue, or\n"
         "the one named, 1 being the report and 2 its first supplement. A fact that\n"
         "is stated again keeps its old value in the journal, and readings it moves are judged again. Who works on\n"
         "with what another began takes it over first: who, from whom and when stay on record and in the report.",
         run_job},
        {"enter",
         "witnessmark enter JOB CHECK VALUE [--place P] [--instrument ID] [--photo F] [--caption T] [--keep-position] [--sure] [--said]\n"
         "            [--read-at TIME] [--by NAME]\n"
         "witnessmark enter JOB --from FILE.toml\n"
         "witnessmark enter JOB CHECK --from-instrument PROFILE@PORT [--place P] [--every T] [--for T] [--go-on] [--anew]\n"
         "witnessmark enter JOB CHECK REST --go-on\n",
         "Records a reading and says at once whether it holds and why. --from-instrument asks an instrument for it by its\n"
         "profile, names it by the serial number it tells, and keeps the bytes it sent as evidence. A series is read in its time;\n"
         "what was read stays if the instrument is unplugged, and --go-on goes on with it, by hand or by the instrument.", run_enter},
        {"correct",
         "witnessmark correct JOB CHECK VALUE --done \"what was done\" [--place P] [--instrument ID]\n"
         "witnessmark correct JOB CHECK --done \"what was done\" --from-instrument PROFILE@PORT [--place P]\n",
         "Records what was put right and the reading that proves it. The failure stays on record.", run_correct},
        {"defer", "witnessmark defer JOB CHECK --until DATE --owner NAME --why T\n",
         "Puts a check off for weather or a cold heater, with a day and a person.", run_defer},
        {"concede", "witnessmark concede JOB CHECK --by NAME --why T\n",
         "Written leave to accept what does not conform. Never for what can hurt someone.", run_concede},
        {"undo", "witnessmark undo JOB\n", "Takes the last entry of this device back, as a new entry.", run_undo},
        {"resolve", "witnessmark resolve JOB CHECK --keep ENTRY [--place P]\n",
         "Decides between readings of two devices that had not seen each other. Both stay on record.", run_resolve},
        {"sign", "witnessmark sign JOB --as crew|customer --name NAME [--strokes F.svg] [--refused WHY]\n",
         "Signs, if nothing stands against it; else lists what does.", run_sign},
        {"near-miss", "witnessmark near-miss JOB --why \"what nearly happened\"\n",
         "Notes what nearly went wrong, so that others learn of it.", run_near_miss},
        {"abandon", "witnessmark abandon JOB --done \"how it was left safe\" --why T\n",
         "The crew leaves before the end; says what is shut, drained or locked off.", run_abandon},
        {"survey-report", "witnessmark survey-report JOB [--out F.pdf]\n",
         "What the survey JOB found, in plain words for the customer: suited, suited with conditions or not suited, what stands\n"
         "in the way of a date and what would cure it, shade by month where site.horizon is known, and what the sun may bring.\n"
         "--out writes it as a PDF, sealed by the company once the survey is signed. Refused while a check is open.",
         run_survey_report},
        {"leaflet", "witnessmark leaflet JOB [--out F.pdf]\n",
         "One sheet that stays by the heater: how the set of JOB is set as it was read, what is normal on this kind of set, when to\n"
         "call, what to do in an emergency, on holiday and in frost, and what the household said when it was shown (the check\n"
         "customer-said). --out writes it as a PDF. A draft while something stands against the handover.",
         run_leaflet},
        {"handover", "witnessmark handover JOB [--out F.pdf] [--stamp URL]\n",
         "Makes and seals the report and queues the message to the customer. A stamp server that does not answer\n"
         "delays nothing: the report is sealed without a time stamp and can be issued again. Once what was put\n"
         "off has been read, it makes a supplement that follows the report.",
         run_handover},
        {"due", "witnessmark due [--until DATE]\n",
         "What was put off over all jobs, with day and owner; it may be entered after the handover.", run_due},
        {"parts",
         "witnessmark parts JOB [--out F.pdf]\n"
         "witnessmark parts tick JOB PART… --place store|van [--counted V] [--missing] [--changed T] [--why T] [--batch B] [--serial S]\n"
         "            [--article A] [--plate F] [--photo F]\n",
         "What the store puts together for the job: each part with its amount and how it came about, and the\n"
         "instruments its checks ask for. --out makes a sheet to tick at the store and at the van. tick keeps what was there, or\n"
         "missing, or another; all stands for every part not ticked there yet, and --photo names the part by its code on the\n"
         "sheet. --plate reads serial number and batch off the part (Code 128, Data Matrix, QR; GS1 elements and web addresses).\n"
         "A plate, or --article, that names another article than the list of parts makes the part another one, whatever was said.\n"
         "What is not as listed is asked about at the checks on the roof where the part is fitted. A part named open\n"
         "with job facts JOB --set part.PART.van=open is not ticked any more.", run_parts},
        {"plan", "witnessmark plan [--from DATE] [--until DATE] [--crew LEAD] [--out F.ics]\n",
         "The jobs of the days ahead, a week if nothing is said: the weather each needs, papers, instruments and gear that are not in\n"
         "order on that day, what to load, and what was put off until then. --out writes a calendar. A job gets its day by\n"
         "job facts JOB --set job.date=2027-03-18, unless its survey stands against it.", run_plan},
        {"register", "witnessmark register instruments|people|checklists [--search WORDS] [--sort COLUMN] [--csv]\n",
         "Instruments with their calibrations, people with their papers, checklists with the versions in use.", run_register},
        {"read-instrument",
         "witnessmark read-instrument --profile P [--port PORT]\n"
         "witnessmark read-instrument --job JOB [--check CHECK]\n",
         "Reads an instrument once, by Modbus, SCPI or plain lines as its profile says, and shows the reading with every byte of\n"
         "it; nothing is recorded. PORT is a device as /dev/ttyUSB0, or host:port. Without --port it looks whether the profile is\n"
         "sound. Profiles lie in instruments/ of the data folder. With --job it prints what instruments sent for the job's checks.",
         run_read_instrument},
        {"reissue", "witnessmark reissue JOB --out F.pdf [--stamp URL]\n",
         "Seals the report of a job that was handed over once more, with a sheet that names the first by its\n"
         "SHA-256. For a time stamp that was missing, or before a method of sealing grows old.",
         run_reissue},
        {"post",
         "witnessmark post list | post save DIR\n"
         "witnessmark post send [--server smtp://host:port] [--user U --password-file F] [--ca F]\n",
         "The outbox: what waits, sending it under TLS, or saving it as .eml files. Without --server the one of\n"
         "settings.toml is used.", run_post},
        {"week", "witnessmark week YYYY-Www [--pdf FILE] [--health] [--weeks N] [--crew LEAD] [--check CHECK] [--roof R]\n"
         "            [--kind K] [--batch B] [--instrument ID] [--street S] [--connect CONNINFO]\n"
         "witnessmark week --list [--connect CONNINFO]\n",
         "The week's audit: what failed of how many, what can hurt someone, what is still open; of all jobs, or of those that\n"
         "fit. --weeks counts so many weeks up to that one. Findings stay compared with all jobs. --connect counts the office's record\n"
         "in PostgreSQL in place of the data folder.", run_week},
        {"act",
         "witnessmark act new --week YYYY-Www --finding N|--kind K --subject S --check CHECK --cause WORD --why T --remedy T --owner NAME --due DATE\n"
         "            [--follows ACTION] [--by NAME]\n"
         "witnessmark act done ACTION [--on DATE] [--note T] [--by NAME]\n"
         "witnessmark act check ACTION [--days 30|90] | act end ACTION --why T | act list | act causes\n",
         "Corrective actions. A finding of the week (--finding counts from 1; or --kind, --subject and --check) gets\n"
         "a cause, a remedy, an owner and a day. 30 and 90 days after it was carried out the failures before and\n"
         "after are compared: it helped, no proof yet, or it got worse. It stays open until the check after 90 days\n"
         "says that it helped, or somebody ends it with a reason. Whoever is concerned is heard first.",
         run_act},
        {"revisit", "witnessmark revisit JOB [--why T] | revisit --week YYYY-Www\n",
         "Opens a service job after JOB, to look at the house again; with --week one for each job the week wants\n"
         "looked at. Asked twice, it names the visit that is open already.", run_revisit},
        {"complaint",
         "witnessmark complaint JOB --symptom S [--words T] [--since DATE] [--air T] [--by NAME]\n"
         "witnessmark complaint JOB [--revisit [--complaint C]] | complaint list\n"
         "witnessmark complaint JOB --close CAUSE|other --words T [--check CHECK] [--proved-in JOB] [--complaint C] [--by NAME]\n",
         "A call of the customer. It is held against the record of the house: what can be behind it, likeliest first, with each\n"
         "weight and its source, and the checks to repeat. --revisit opens a visit that knows all this; a complaint is closed\n"
         "by a check that stands as right now, or by the visit in which it was put right. The customer's words are locked and\n"
         "go with an erasure. complaint JOB names the symptoms while nobody has complained.", run_complaint},
        {"house", "witnessmark house JOB [--out F.pdf]\n",
         "All that was ever done at the house of JOB: visits, what was put right, what is not, complaints, reports by their\n"
         "hash, and what is fitted. It names nobody, so it can be given to a new owner.", run_house},
        {"trace",
         "witnessmark trace --instrument ID [--from DATE] [--until DATE] | trace --batch B\n"
         "            [--letters DIR] [--visits] [--record --why T [--as-found E] [--by NAME]]\n",
         "What hangs on an instrument or a batch of parts: readings, houses, customers. --letters drafts a letter to\n"
         "each, --visits opens a service job for each house, --record keeps the doubt: what the instrument read is\n"
         "then no evidence, and those checks are open again. Without these nothing is written.",
         run_trace},
        {"pack", "witnessmark pack FILE [--since HEAD] [--password-file F]\n", "Writes the journal as a bundle for another device.", run_pack},
        {"unpack", "witnessmark unpack FILE… [--password-file F]\n", "Takes bundles in, whole or not at all, in any order.", run_unpack},
        {"office",
         "witnessmark office --connect CONNINFO [--drop FOLDER]\n"
         "witnessmark office NAME --connect CONNINFO --role crew|lead [--device DEVICE …]\n",
         "The record of all crews in PostgreSQL. --drop takes in every bundle of a folder, whole or not at all, in any order and\n"
         "any number of times, says of each file what was taken or why not, and leaves the files where they are. The first call\n"
         "makes the tables. --role makes a role of the database: a crew adds and sees the jobs that were opened on its devices, a\n"
         "lead sees all; the database itself refuses the rest. week --connect counts what the role sees.",
         run_office},
        {"backup", "witnessmark backup [--status]\n",
         "Copies the journal, opens the copy, verifies and folds it. The first writing of each day does that by\n"
         "itself. Seven days and four weeks are kept, in backups/ of the data folder or in folder = \"…\" under\n"
         "[backup] in settings.toml. The keys that sign are in it only sealed by PINs or locked under\n"
         "password_file. --status says what there is, and what is in no bundle and with no other device yet.",
         run_backup},
        {"restore", "witnessmark restore [--from FOLDER|FILE.journal|DAY] [--move-aside] [--password-file F]\n",
         "Puts the newest good backup, or the one named, into the data folder. Entries that are only here are not\n"
         "overwritten: it refuses, or with --move-aside keeps them in the folder set-aside. Nothing is deleted. The\n"
         "folder goes on as a new device, and customers who were erased meanwhile stay erased.",
         run_restore},
        {"attest", "witnessmark attest FILE.pdf|FILE.bundle|--journal [--explain] [--expect FINGERPRINT] [--qr PHOTO]\n",
         "Says whether a report, a bundle or the journal is as it was written, and how to check that by hand.",
         run_attest},
        {"erase-customer", "witnessmark erase-customer JOB [--despite WHY]\n",
         "Deletes name, address, photos, signatures and mails of the customer of a job for good. Readings and\n"
         "outcomes stay, and the journal still verifies. A report that was sent is not called back. Where the\n"
         "country of the settings wants them kept for longer it refuses and says why; --despite keeps the reason\n"
         "why it is done all the same.",
         run_erase_customer},
        {"retention", "witnessmark retention due | retention list | retention countries\n",
         "How long the records of a house are kept, with reason and source, and whose period has ended. The country\n"
         "is chosen by [retention] country = \"…\" in settings.toml. Local law decides.",
         run_retention},
        {"access",
         "witnessmark access list | access add NAME [--role R] --new-pin-file F | access remove NAME\n",
         "Who has a PIN. The first person is an owner, and from then on the keys of the data folder are sealed:\n"
         "every form wants --person NAME and --pin-file F, or WITNESSMARK_PERSON and WITNESSMARK_PIN_FILE. An\n"
         "installer works on the jobs of the own crew, a lead also concedes and erases, an owner also gives\n"
         "PINs. After three wrong PINs each try has to wait, up to a quarter of an hour; nothing is deleted.",
         run_access},
        {"device", "witnessmark device list | device accept DEVICE | device refuse DEVICE\n",
         "Whose entries are here. A device that came by bundle is known to nobody until a lead accepts it: jobs, reports and\n"
         "weeks say so as long. Of a refused one no more bundles are taken; what is here stays, and is named.",
         run_device},
        {"lint", "witnessmark lint FILE…\n", "Finds what is wrong or doubtful in checklist files.", run_lint},
        {"replay", "witnessmark replay FILE.toml\n",
         "Judges all past readings again by a changed checklist and shows which outcomes would flip, and why; the\n"
         "journal stays as it is. Exit 1 if any would.", run_replay},
        {"checklist", "witnessmark checklist list | checklist show NAME | checklist compare FILE | checklist publish FILE --why T\n",
         "The checklists as they are published. compare says what a changed text says otherwise, and what is wrong with\n"
         "it; publish makes it the next version, with its reason: new jobs are opened with it, open jobs keep theirs.\n"
         "It lies in checklists/ of the data folder, the version before in checklists/earlier/.", run_checklist},
        {"demo", "witnessmark demo [--into DIR] [--weeks N] [--seed S]\n",
         "Does one invented job from facts to sealed report, or with --weeks a whole season.", run_demo},
        {"work-out", "witnessmark work-out NAME key=value… | work-out --list | work-out NAME --help\n",
         "Any computation of the trade, with its source.", work_out},
        {"window", "witnessmark window [--screen S] [--job JOB] [--check CHECK] [--show how|entries|plant|parts|house|days|instruments|people|checklists|workshop] [--theme T] [--size WxH] [--text P] [--scale X] [--sound on|off] [--lock-after MINUTES] [--photos DIR] [--picture F.png]\n",
         "Opens the window at a given place. With --picture FILE it draws it once and quits.", run_window_command},
        {"check-up", "witnessmark check-up [--bundle FILE]\n",
         "Looks whether this computer is fit for the work: share folder, fonts, disk, clock, journal, keys, backups, mail,\n"
         "instruments; says of each what, where and what to do. Exit 1 if something is wrong. --bundle writes what a person\n"
         "can read and send to whoever helps: no names, no folders, no readings.",
         run_check_up},
        {"manual", "witnessmark manual page|bash|zsh|fish|functions\n",
         "The manual page, or what a shell completes, as they are installed with the program; or the functions, units, facts and\n"
         "worked-out values that a checklist may name.", run_manual},
    };
    return table;
}

Output run_command(const Arguments& arguments) {
    if (arguments.has("version")) return {fmt::format("witnessmark {}\n", program_version()), "", 0};
    if (!arguments.words.empty() && arguments.words.front() == "help") return {overview(), "", 0};
    if (arguments.words.empty() && arguments.has("help")) return {overview(), "", 0};
    const auto world = world_for(arguments);
    if (!world) return told_as(world.error(), form_of(arguments));
    if (arguments.words.empty()) return run_window_command(arguments, *world);
    for (const auto& command : command_table()) {
        if (command.form != arguments.words.front()) continue;
        // work-out explains each computation itself.
        if (arguments.has("help") && !(command.form == "work-out" && arguments.words.size() > 1))
            return {help_for(command), "", 0};
        Output output = command.run(arguments, *world);
        if (world->told) output.talk += *world->told;
        return output;
    }
    return told_as({fmt::format("There is no form \"{}\".", arguments.words.front()), "witnessmark",
                    "See witnessmark --help for the forms.", ProblemKind::WrongUse},
                   form_of(arguments));
}

std::string_view program_version() { return WM_VERSION; }

bool has_journal(const World& world) {
    std::error_code problem;
    return std::filesystem::exists(world.data / "journal.db", problem);
}

Output nothing_yet(const World& world, std::string_view list, Form form) {
    return {form == Form::Json ? fmt::format("{{\"{}\":[]}}\n", list) : "",
            fmt::format("There is no journal in {} yet.\n", world.data.string()), 0};
}

Output run_words(const std::vector<std::string>& words) {
    const auto arguments = sort_arguments(words);
    if (arguments) return run_command(*arguments);
    const bool json = std::find(words.begin(), words.end(), "--json") != words.end();
    return told_as(arguments.error(), json ? Form::Json : Form::Text);
}

}  // namespace wm::app
