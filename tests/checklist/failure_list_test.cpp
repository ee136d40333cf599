#include "checklist/failure_list.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "checklist/lint.hpp"
#include "checklist/testing.hpp"

using namespace wm;
using namespace wm::checklist;
using wm::checklist::testing::library_with;
using wm::checklist::testing::published;

namespace {

const Library& all_lists() {
    static const Library library = library_with({"survey.toml", "kit.toml", "commissioning.toml", "service.toml"});
    return library;
}

/// The published list with one text in the place of another, as the linter finds it.
std::vector<Finding> faults_with(const std::string& was, const std::string& now) {
    auto text = published("failures.toml");
    const auto at = text.find(was);
    REQUIRE(at != std::string::npos);
    text.replace(at, was.size(), now);
    return lint(text, "failures.toml", all_lists()).findings;
}

bool tells(const std::vector<Finding>& findings, std::string_view what) {
    return std::any_of(findings.begin(), findings.end(),
                       [&](const Finding& finding) { return finding.what.find(what) != std::string::npos; });
}

}  // namespace

TEST_CASE("each failure of the trade is caught by the checks that the trade names for it") {
    // Source: failure catalogue of the trade content, column "caught by" (common practice, no source).
    struct Row {
        const char* failure;
        std::vector<std::string> caught_by;
    };
    const std::vector<Row> rows = {
        {"air-lock", {"loop-rise", "coll-cross-rise", "air-purged", "temp-rise"}},
        {"crossed-pipes", {"tank-ports", "temp-rise"}},
        {"flows-back", {"tank-over-coll", "svc-night-loss"}},
        {"looks-away", {"coll-tilt", "coll-azimuth", "day-after"}},
        {"shade", {"sun-shade", "svc-glass-shade"}},
        {"fixed-in-batten", {"members-found", "anchor-torque", "svc-anchors"}},
        {"bolts-loose", {"anchor-torque", "nut-marks", "svc-anchors"}},
        {"roof-leak", {"hook-gap", "hole-flashed", "roof-hose", "covering-back"}},
        {"roof-overloaded", {"roof-load", "roof-members"}},
        {"discharge-short", {"discharge-route", "discharge-pipe"}},
        {"relief-blocked", {"relief-unblocked", "relief-lever"}},
        {"relief-drips", {"pressure-limit-set", "expansion-room", "relief-lever"}},
        {"no-vacuum-break", {"vacuum-break"}},
        {"jacket-first", {"fill-order", "loop-volume"}},
        {"summer-boil", {"tank-size-fit", "jacket-cushion", "jacket-relief", "customer-shown", "svc-fluid-ph"}},
        {"frost-absorber", {"frost-fit", "loop-freeze-point", "svc-freeze-point"}},
        {"frost-cold-feed", {"frost-cold-feed", "drain-low", "ins-ends"}},
        {"pipe-ends-open", {"ins-ends"}},
        {"insulation-perished", {"ins-uv", "kit-uv-cover", "svc-insulation"}},
        {"metals-eaten", {"metal-pairs", "svc-leaks"}},
        {"scald", {"tempering-fitted", "outlet-temp", "svc-outlet-temp"}},
        {"plastic-soft", {"hot-pipe-material", "heater-inlet-limit"}},
        {"cutout-trips", {"heater-inlet-limit", "thermostat-60"}},
        {"element-dry", {"heater-filled", "power-locked"}},
        {"earth-lost", {"elec-ready", "earth-continuity", "bonding-pipes", "insulation-res", "rcd-trip"}},
        {"germs", {"thermostat-60", "controller-program", "tank-size-fit", "svc-thermostat"}},
        {"controller-fights", {"controller-program", "sensor-agree", "day-after"}},
        {"joint-weeps", {"instruments-due"}},
    };
    const auto list = load_failures(published("failures.toml"), "failures.toml", all_lists());
    REQUIRE_MESSAGE(list, (list ? "" : told(list.error())));
    CHECK(list->failures.size() == rows.size());
    for (const auto& row : rows) {
        CAPTURE(row.failure);
        const auto* failure = list->failure(row.failure);
        REQUIRE(failure != nullptr);
        for (const auto& check : row.caught_by) {
            CAPTURE(check);
            CHECK(std::find(failure->checks.begin(), failure->checks.end(), check) != failure->checks.end());
        }
    }
}

TEST_CASE("what can hurt the caller comes with what to do at once") {
    const auto list = load_failures(published("failures.toml"), "failures.toml", all_lists());
    REQUIRE(list);
    for (const char* id : {"too-hot", "runs-outside", "burst", "electric", "moved", "fluid"}) {
        CAPTURE(id);
        REQUIRE(list->symptom(id) != nullptr);
        CHECK_FALSE(list->symptom(id)->at_once.empty());
    }
}

TEST_CASE("every weight is there, and the more a record speaks against a house the more it weighs") {
    // Order alone: the ratios are common practice, no source.
    const auto list = load_failures(published("failures.toml"), "failures.toml", all_lists());
    REQUIRE(list);
    double before = 1e9;
    for (const char* when : {"does not conform", "never read", "in doubt", "put right"}) {
        CAPTURE(when);
        const double factor = list->weights.at(when).factor;
        CHECK(factor < before);
        CHECK(factor > 1.0);
        before = factor;
    }
    CHECK(list->weights.at("conforms").factor < 1.0);
    CHECK(list->weights.at("weather fits").factor > list->weights.at("season fits").factor);
}

TEST_CASE("the linter finds a check, a symptom, a weather, a source or a weight that is none") {
    struct Row {
        const char *was, *now, *what;
    };
    for (const Row& row : {
             Row{"\"frost-cold-feed\", \"drain-low\"", "\"frost-cold-fed\", \"drain-low\"", "is caught by \"frost-cold-fed\", which no checklist holds"},
             Row{"symptoms = [\"moved\", \"noise\"]", "symptoms = [\"moved\", \"nois\"]", "has the symptom \"nois\", which is not listed"},
             Row{"weather = \"gale\"", "weather = \"storm\"", "comes with \"storm\", which is no weather"},
             Row{"source = [\"CP\"]", "source = [\"S999\"]", "names the unknown source \"S999\""},
             Row{"source = [\"CP\"]", "source = []", "names no source"},
             Row{"when = \"put off\"", "when = \"put of\"", "\"put of\" is nothing that is weighed"},
             Row{"when = \"put off\"", "when = \"put right\"", "the weight \"put right\" stands twice"},
             Row{"when = \"put off\"", "when = \"put of\"", "the weight \"put off\" is missing"},
             Row{"factor = 8", "factor = 0", "the weight \"does not conform\" has no factor above 0"},
             Row{"often = 3", "often = -1", "the failure \"air-lock\" has no often above 0"},
             Row{"id = \"crossed-pipes\"", "id = \"air-lock\"", "the failure \"air-lock\" stands twice"},
             Row{"\"lukewarm\", \"noise\"]", "\"lukewarm\"]\nsmell = 1", "smell"},
             Row{"needs = \"sys.kind is 'indirect'\"", "needs = \"sys.kynd is 'indirect'\"", "sys.kynd"},
             Row{"needs = \"sys.kind is 'indirect'\"", "needs = \"sys.tank_l\"", "needs of the failure \"jacket-first\""},
             Row{"id = \"noise\"", "id = \"noises\"", "no failure has the symptom \"noises\""},
             Row{"version = 1", "version = 0", "the list of failures has no version"},
         }) {
        CAPTURE(row.now);
        const auto findings = faults_with(row.was, row.now);
        CAPTURE(findings.empty() ? std::string{"nothing"} : findings.front().what);
        CHECK(tells(findings, row.what));
    }
}

TEST_CASE("a list with a fault is refused as a whole, with its line") {
    auto text = published("failures.toml");
    text.replace(text.find("\"tank-ports\""), 12, "\"tank-port\"");
    const auto list = load_failures(text, "failures.toml", all_lists());
    REQUIRE_FALSE(list);
    CHECK(list.error().what == "the failure \"crossed-pipes\" is caught by \"tank-port\", which no checklist holds");
    CHECK(list.error().where.starts_with("failures.toml:"));
    CHECK(list.error().kind == ProblemKind::Unreadable);
}
