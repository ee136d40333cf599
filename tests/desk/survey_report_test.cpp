// The report of a survey: from the checks to the paper, and what the sun of the house may bring.
#include "desk/survey_report.hpp"

#include <set>

#include "desk/day_plan.hpp"
#include "desk/expectation.hpp"
#include "desk/survey_sun.hpp"
#include "desk/paper_journal.hpp"
#include "handover/seal.hpp"
#include "handover/survey_sample.hpp"
#include "handover/survey_words.hpp"
#include "plant/derived.hpp"
#include "plant/expected_year.hpp"

namespace wm::desk {

using handover::FoundHow;
using handover::Suited;
using testing::Bench;
using testing::house_facts;
using testing::PaperJournal;
using testing::tools;

namespace {

const std::string set_of_house = "sys.fix_kn = 1.2\nsys.tank_feet = 4\nsys.tank_len_m = 1.3\nsys.tank_across_m = 0.5\n"
                                 "sys.tank_axis_m = 0.35\nsys.base_m = 0.4\n";
const std::string sky = "site.sun_share = 0.66\nsite.air_jan_c = 3\nsite.air_jul_c = 19\n";

/// Every check of the survey answered rightly, but for `other`: the answer to one check.
void survey(Bench& bench, const std::map<std::string, std::string>& other = {}) {
    for (const auto& shown : bench.view().checks) {
        if (!shown.applies || shown.form == EntryForm::None || shown.form == EntryForm::Signature) continue;
        // The one check alone, as in Bench::do_all: a whole view for each takes long under the sanitizers.
        const auto hand = bench.desk().in_hand(bench.job);
        REQUIRE(hand);
        Assessment assessment{*hand};
        for (const auto& [place, text] : testing::fine_entries(check_view(assessment, *hand->list->find(checklist::CheckId{shown.id})))) {
            const auto given = other.find(shown.id);
            auto reading = bench.reading(shown.id, given != other.end() ? given->second : shown.id == "sun-azimuth" ? "180°" : text, place);
            reading.sure = true;
            reading.photo = testing::photo_bytes();
            reading.photo_name = "photo.jpg";
            bench.take(reading);
        }
    }
}

void sign(Bench& bench, Signer who, const std::string& refused = "") {
    const auto done = bench.desk().carry_out(Sign{bench.job, who, who == Signer::Crew ? "Tindo Quellaby" : "Ansa Velmorrin", {}, refused});
    REQUIRE_MESSAGE(done, (done ? "" : told(done.error())));
}

handover::SurveyReport report_of(Bench& bench) {
    auto report = survey_report(bench.desk(), bench.job);
    REQUIRE_MESSAGE(report, (report ? "" : told(report.error())));
    return std::move(*report);
}

std::vector<std::string> ids_of(const std::vector<handover::SurveyFinding>& findings) {
    std::vector<std::string> ids;
    for (const auto& finding : findings) ids.push_back(finding.check_id);
    return ids;
}

SunOfSurvey sun_with(const std::string& more, const std::string& without = "") {
    const PaperJournal journal{house_facts(set_of_house + more + tools(), without), "survey"};
    return sun_of_survey(journal.hand(), journal.view());
}

double sum_of(const SunOfSurvey& sun, double handover::ExpectedMonthBand::*end) {
    double sum = 0.0;
    for (const auto& month : sun.expectation.months) sum += month.*end;
    return sum;
}

}  // namespace

TEST_CASE("every check of the shipped survey but the verdict has everyday words, and none has words for nothing") {
    const auto* list = testing::shipped_library()->checklist_named("survey");
    REQUIRE(list != nullptr);
    std::set<std::string> wanted;
    for (const auto& check : list->checks)
        if (checklist::computed_by_rule(check) != checklist::ComputedRule::SurveyVerdict) wanted.insert(check.id.text);
    const auto& told_of = handover::testing::survey_check_ids();
    CHECK(wanted == std::set<std::string>(told_of.begin(), told_of.end()));
    for (const auto& id : wanted) {
        CAPTURE(id);
        CHECK(handover::has_survey_words(id));
    }
}

TEST_CASE("a survey that is not finished, and a job that is none, make no report and say why") {
    Bench bench{house_facts(set_of_house + tools()), "survey"};
    const auto early = survey_report(bench.desk(), bench.job);
    REQUIRE_FALSE(early);
    CHECK(early.error().kind == ProblemKind::Refused);
    CHECK(early.error().what.find("The survey is not finished: ") == 0);
    // All is read, and nobody has given leave.
    survey(bench);
    const auto without_leave = survey_report(bench.desk(), bench.job);
    REQUIRE_FALSE(without_leave);
    CHECK(without_leave.error().what == "The survey is not finished: Leave to work on the roof is open.");
    Bench other;
    const auto none = survey_report(other.desk(), other.job);
    REQUIRE_FALSE(none);
    CHECK(none.error().what == "This job is no survey.");
}

TEST_CASE("a house that is suited gets a draft, and a sealed paper once the survey is signed") {
    Bench bench{house_facts(set_of_house + sky + tools()), "survey"};
    sign(bench, Signer::Customer);
    survey(bench);
    auto report = report_of(bench);
    CHECK(report.blocking.empty());
    CHECK(report.suited != Suited::No);
    CHECK(report.surveyor.empty());
    CHECK(report.place == "Dovetail Steps 14");
    const auto draft = survey_paper(bench.desk(), report);
    REQUIRE_MESSAGE(draft, (draft ? "" : told(draft.error())));
    CHECK_FALSE(handover::attest_report(draft->file).genuine);
    sign(bench, Signer::Crew);
    report = report_of(bench);
    CHECK(report.surveyor == "Tindo Quellaby");
    const auto paper = survey_paper(bench.desk(), report);
    REQUIRE_MESSAGE(paper, (paper ? "" : told(paper.error())));
    const auto seal = handover::attest_report(paper->file);
    CHECK(seal.genuine);
    CHECK(seal.root_fingerprint == report.fingerprint);
}

TEST_CASE("what blocks and what is only a condition stand apart, each with what would cure it, and no date is set") {
    Bench bench{house_facts(set_of_house + tools()), "survey"};
    sign(bench, Signer::Customer);
    survey(bench, {{"access-safe", "no stance"}, {"sun-pitch", "7.5°"}});
    sign(bench, Signer::Crew);
    const auto report = report_of(bench);
    CHECK(report.suited == Suited::No);
    CHECK(ids_of(report.blocking) == std::vector<std::string>{"access-safe"});
    const auto conditions = ids_of(report.conditions);
    CHECK(std::find(conditions.begin(), conditions.end(), "sun-pitch") != conditions.end());
    CHECK(report.blocking[0].how == FoundHow::Wrong);
    const auto words = handover::survey_words(report);
    CHECK(words.blocking[0].found == "There is no safe place for a ladder.");
    CHECK(bench.check("survey-verdict").outcome == Outcome::DoesNotConform);
    const auto day = bench.desk().carry_out(OpenJob{"commissioning", "[job]\ndate = 2027-03-20\n", "f", bench.job, false});
    REQUIRE_FALSE(day);
    CHECK(day.error().what.find("Not suited, because of Safe stand for ladder or tower.") != std::string::npos);
}

TEST_CASE("an answer too near its limit is unsure, and what was agreed in writing is a condition") {
    Bench bench{house_facts(set_of_house + tools()), "survey"};
    sign(bench, Signer::Customer);
    // Inside 45° of south, but not by the doubt of a compass; and 60° off, which may be agreed.
    survey(bench, {{"sun-azimuth", "222°"}});
    const auto unsure = report_of(bench);
    REQUIRE(ids_of(unsure.blocking) == std::vector<std::string>{"sun-azimuth"});
    CHECK(unsure.blocking[0].how == FoundHow::Unsure);
    bench.enter("sun-azimuth", "240°");
    CHECK(ids_of(report_of(bench).blocking) == std::vector<std::string>{"sun-azimuth"});
    const auto conceded = bench.desk().carry_out(ConcedeCheck{.job = bench.job, .check = "sun-azimuth", .by = "Odrun Vassamy", .why = "a larger set is agreed"});
    REQUIRE_MESSAGE(conceded, (conceded ? "" : told(conceded.error())));
    const auto report = report_of(bench);
    CHECK(report.suited == Suited::WithConditions);
    const auto found = std::find_if(report.conditions.begin(), report.conditions.end(), [](const auto& each) { return each.check_id == "sun-azimuth"; });
    REQUIRE(found != report.conditions.end());
    CHECK(found->how == FoundHow::Accepted);
}

TEST_CASE("without leave of the customer a house is not suited, whatever else was found") {
    Bench bench{house_facts(set_of_house + tools()), "survey"};
    sign(bench, Signer::Customer, "not on my roof");
    survey(bench);
    sign(bench, Signer::Crew);
    const auto report = report_of(bench);
    CHECK(report.suited == Suited::No);
    CHECK(ids_of(report.blocking) == std::vector<std::string>{"survey-consent"});
    CHECK(bench.check("survey-verdict").why.find("Not suited, because of Leave to work on the roof.") == 0);
    CHECK_FALSE(bench.desk().carry_out(OpenJob{"commissioning", "[job]\ndate = 2027-03-20\n", "f", bench.job, false}));
}

TEST_CASE("shade by month is that of the sun's path over the horizon line, and lowers the year") {
    const auto open = sun_with(sky);
    CHECK(open.shade.empty());
    CHECK_FALSE(open.shade_read);
    const auto hilly = sun_with(sky + "site.horizon = \"90:25; 180:15; 270:30\"\n");
    REQUIRE(hilly.shade.size() == 12);
    // The same place by the equation itself.
    plant::SkyOfPlace place{.latitude = units::Angle::degrees(29.4), .tilt = units::Angle::degrees(35.0), .azimuth = units::Angle::degrees(180.0),
                            .pressure = *plant::station_pressure(units::metres(2310.0)), .sunshine = 0.5,
                            .horizon = *plant::read_horizon("90:25; 180:15; 270:30")};
    for (int month = 1; month <= 12; ++month) {
        CAPTURE(month);
        CHECK(std::abs(hilly.shade[static_cast<std::size_t>(month - 1)].share - *plant::shaded_share(place, month)) < 1e-9);
    }
    CHECK(hilly.shade[0].name == "Jan");
    CHECK(hilly.shade[11].share > 0.0);
    CHECK(sum_of(hilly, &handover::ExpectedMonthBand::high_kwh) < sum_of(open, &handover::ExpectedMonthBand::high_kwh));
    CHECK(sum_of(hilly, &handover::ExpectedMonthBand::low_kwh) < sum_of(open, &handover::ExpectedMonthBand::low_kwh));
    CHECK(checklist::read_fact("site.horizon", "90:25; 180:15"));
    CHECK_FALSE(checklist::read_fact("site.horizon", "ninety"));
}

TEST_CASE("without a line the shade of the worst month is taken off the low end alone") {
    PaperJournal journal{house_facts(set_of_house + sky + tools()), "survey"};
    const auto before = sun_of_survey(journal.hand(), journal.view());
    const auto& shade = *journal.hand().list->find(checklist::CheckId{"sun-shade"});
    for (const auto& [place, text] : {std::pair{"9", "30 %"}, {"10:30", "20 %"}, {"12", "5 %"}, {"13:30", "15 %"}, {"15", "20 %"}})
        REQUIRE(journal.read(shade, place, text));
    const auto after = sun_of_survey(journal.hand(), journal.view());
    REQUIRE(after.shade_read);
    CHECK(*after.shade_read == 18);  // the mean of the five
    using Month = handover::ExpectedMonthBand;
    CHECK(sum_of(after, &Month::high_kwh) == doctest::Approx(sum_of(before, &Month::high_kwh)));
    CHECK(sum_of(after, &Month::low_kwh) == doctest::Approx(0.82 * sum_of(before, &Month::low_kwh)));
}

TEST_CASE("the plane is the planned one, else the roof as measured, else as its facts say; and is held against the best") {
    const auto planned = sun_with(sky);
    REQUIRE(planned.plane.size() == 3);
    CHECK(planned.plane[0].text == "looks south (185°), 30° steep");
    CHECK(planned.plane[1].text == "looks south (180°), 35° steep");
    // Source: trade-checks.md 2.2, d.tilt_best of 29.4° is 34.4°, d.az_equator north of the equator 180°.
    CHECK(planned.plane[2].text == "looks south (180°), 34° steep");
    REQUIRE(planned.of_best_plane);
    CHECK(*planned.of_best_plane >= 99);
    PaperJournal journal{house_facts(set_of_house + sky + tools(), "sys.az_target"), "survey"};
    CHECK(sun_of_survey(journal.hand(), journal.view()).plane[1].text == "looks south (185°), 35° steep");
    REQUIRE(journal.read(*journal.hand().list->find(checklist::CheckId{"sun-azimuth"}), "", "270°"));
    const auto west = sun_of_survey(journal.hand(), journal.view());
    CHECK(west.plane[0].text == "looks west (270°), 30° steep");
    CHECK(west.plane[1].text == "looks west (270°), 35° steep");
    CHECK(*west.of_best_plane < 95);
    CHECK(*west.of_best_plane > 60);
}

TEST_CASE("the year of a survey is that of the handover of the same house, and what is missing is named") {
    const std::string facts = house_facts(set_of_house + sky + tools());
    const PaperJournal surveyed{facts, "survey"};
    const PaperJournal fitted{facts, "commissioning"};
    const auto before = sun_of_survey(surveyed.hand(), surveyed.view());
    const auto after = expectation_of(fitted.hand(), fitted.view(), "2026-11-25");
    REQUIRE(after.year.size() >= 2);
    CHECK(after.year[0].text == before.sun_band + " a year");
    CHECK(after.year[1].text.find(before.need_band + " a year") == 0);
    const auto dark = sun_with("");
    CHECK(dark.sun_band.empty());
    REQUIRE(dark.expectation.left_out.size() == 1);
    CHECK(dark.expectation.left_out[0].find("for lack of: ") != std::string::npos);
}

}  // namespace wm::desk
