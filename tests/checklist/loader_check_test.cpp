#include "checklist/loader_check.hpp"

#include <doctest/doctest.h>

#include <string>

namespace wm::checklist {
namespace {

std::string first_complaint(const std::string& lines) {
    const std::string text =
        "id = \"x\"\nstage = \"A\"\nseverity = \"R\"\ntitle = \"X\"\nquestion = \"?\"\nwhy = "
        "\"w\"\non_fail = \"f\"\n" +
        lines;
    const auto document = read_document(text, "c.toml");
    REQUIRE(document);
    Findings findings{text};
    const auto check = check_of(*document, findings);
    const auto found = findings.taken();
    CHECK(check.has_value() == found.empty());
    return found.empty() ? "" : found.front().what;
}

}  // namespace

TEST_CASE("each kind of check demands what it cannot be judged without") {
    struct Row {
        std::string lines, complaint;
    };
    for (const Row& row : {
             Row{"kind = \"confirm\"", ""},
             Row{"kind = \"confrm\"", "kind of \"x\" is \"confrm\""},
             Row{"kind = \"quantity\"\ntolerance = \"reading at least 1\"",
                 "\"x\" is a quantity without a unit"},
             Row{"kind = \"quantity\"\nunit = \"mm\"", "\"x\" is a quantity without a tolerance"},
             Row{"kind = \"choice\"", "\"x\" is a choice without accepted answers"},
             Row{"kind = \"positions\"", "\"x\" has no places"},
             Row{"kind = \"series\"\nunit = \"K\"\ntolerance = \"reading at least 1 K\"",
                 "\"x\" is a series without a measurand"},
             Row{"kind = \"series\"\nunit = \"K\"\ntolerance = \"reading at least 1 K\"\nmeasurand = "
                 "\"last - first\"\nworks_out = [\"heat-gain\"]\nextras = [\"sun\"]\nextra_units = [\"W/m²\"]",
                 "\"x\" works out a heat gain without the extras sun and air"},
             Row{"kind = \"photo\"", "\"x\" asks for a photo and does not say of what"},
             Row{"kind = \"signature\"", "\"x\" asks for a signature and does not say whose"},
             Row{"kind = \"computed\"",
                 "\"x\" is computed by neither a tolerance nor a rule, or by both"},
             Row{"kind = \"computed\"\nrule = \"luck\"", "rule of \"x\" is \"luck\""},
             Row{"kind = \"confirm\"\nplausible = [3, 1]", "plausible of \"x\" is no range"},
             Row{"kind = \"confirm\"\nvalid_when = [\"yes\"]",
                 "\"x\" has 1 valid_when and 0 valid_words"},
             Row{"kind = \"confirm\"\nextras = [\"a\"]", "\"x\" has 1 extras and 0 extra_units"},
             Row{"kind = \"confirm\"\noutside = \"maybe\"", "outside of \"x\" is \"maybe\""},
             Row{"kind = \"confirm\"\n[[example]]\noutcome = \"fine\"",
                 "an example of \"x\" expects \"fine\", which is no outcome"},
             Row{"kind = \"confirm\"\n[[part]]\nname = \"p\"\nquestion = \"?\"\nkind = "
                 "\"quantity\"",
                 "part \"p\" of \"x\" is a quantity without a unit"},
             Row{"kind = \"confirm\"\n[[part]]\nname = \"p\"\nquestion = \"?\"\nsaid = \"dry\"", ""},
             Row{"kind = \"confirm\"\n[[part]]\nname = \"p\"\nquestion = \"?\"\nsaid = \"dry\"\nrequired = true",
                 "part \"p\" of \"x\" is said with the reading, and is no plain confirm that may be left out"},
             Row{"kind = \"confirm\"\n[[part]]\nname = \"p\"\nquestion = \"?\"\nkind = \"choice\"\naccept = [\"a\"]\nsaid = \"dry\"",
                 "part \"p\" of \"x\" is said with the reading, and is no plain confirm that may be left out"},
             Row{"kind = \"confirm\"\n[[part]]\nname = \"p\"\nquestion = \"?\"\nsaid = \"dry, and no ice anywhere on it\"",
                 "part \"p\" of \"x\" says more than a key can show"},
         }) {
        CAPTURE(row.lines);
        CHECK(first_complaint(row.lines) == row.complaint);
    }
}

}  // namespace wm::checklist
