// The sheet on paper, read back.
#include <fmt/format.h>

#include "desk/pick_list.hpp"
#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;

TEST_CASE("the sheet is a PDF that grows with its list") {
    Bench bench{testing::house_facts(testing::tools()), "kit"};
    auto list = pick_list(bench.desk(), bench.job);
    REQUIRE(list);
    const auto sheet = pick_sheet(bench.desk(), *list);
    REQUIRE_MESSAGE(sheet, (sheet ? "" : told(sheet.error())));
    CHECK(sheet->starts_with("%PDF-"));
    bench.clock.pass_days(1);
    const auto later = pick_sheet(bench.desk(), *list);
    REQUIRE(later);
    CHECK(later->size() == sheet->size());
    const auto pages = [](const std::string& pdf) {
        std::size_t count = 0;
        for (std::size_t at = pdf.find("/Type /Page\n"); at != std::string::npos; at = pdf.find("/Type /Page\n", at + 1)) ++count;
        return count;
    };
    const auto before = pages(*sheet);
    CHECK(before >= 1);
    // Forty parts with words of several lines go over to further pages and off none.
    for (int i = 0; i < 40; ++i) {
        auto more = list->rows.front();
        more.name = fmt::format("A part with so long a name that it takes several lines on the sheet, number {}", i);
        more.note = std::string(300, 'w') + " " + std::string(200, 'x');
        list->rows.push_back(more);
    }
    const auto longer = pick_sheet(bench.desk(), *list);
    REQUIRE(longer);
    CHECK(pages(*longer) > before);
}

}  // namespace wm::desk
