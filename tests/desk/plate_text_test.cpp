#include "desk/plate_text.hpp"

#include <doctest/doctest.h>

namespace wm::desk {

TEST_CASE("the check digit is that of the published rule, and each single slip is seen") {
    // Source: the running example of the GS1 Digital Link standard, and that of GS1's page on check digits (both from memory; the
    // sums by hand are 78 and 57).
    for (const std::string number : {"09506000134352", "6291041500213"}) {
        CHECK(check_digit_fits(number));
        for (std::size_t at = 0; at < number.size(); ++at)
            for (char digit = '0'; digit <= '9'; ++digit) {
                auto slip = number;
                slip[at] = digit;
                CHECK(check_digit_fits(slip) == (slip == number));
            }
    }
    for (const char* text : {"", "0", "0950600013435X", "-9506000134352"}) CHECK_MESSAGE(!check_digit_fits(text), text);
}

TEST_CASE("an article with its serial number, batch and day is read in each of the three ways it is written") {
    const PlateText wanted{.article = "09506000134352", .serial = "ST-0417", .batch = "RV-K12", .until = "2027-03-31", .plain = ""};
    struct Row {
        const char* text;
        bool is_marked;
    };
    for (const Row& row : {Row{"(01)09506000134352(17)270331(10)RV-K12(21)ST-0417", false}, Row{"01095060001343521727033110RV-K12\x1d" "21ST-0417", true},
                           Row{"010950600013435221ST-0417\x1d" "10RV-K12\x1d" "17270331", true},
                           Row{"https://id.example/01/09506000134352/10/RV-K12/21/ST-0417?17=270331", false},
                           Row{"https://id.example/some/way/01/9506000134352/10/RV%2DK12/21/ST-0417?lang=en&17=270300", false}}) {
        CAPTURE(row.text);
        const auto read = read_plate_text(row.text, row.is_marked);
        REQUIRE_MESSAGE(read, (read ? std::string{} : read.error().what));
        CHECK(*read == wanted);
    }
}

TEST_CASE("an element nobody asks for does not hide the next") {
    // 3103 is a weight of set length, 240 an own number of the maker of free length.
    const auto read = read_plate_text("01095060001343523103000125240MK-7\x1d" "10RV-K12", true);
    REQUIRE(read);
    CHECK(read->batch == "RV-K12");
    CHECK(read->article == "09506000134352");
}

TEST_CASE("a code that follows no rule is plain text, and one that breaks its rule is refused") {
    const auto plain = read_plate_text("SN 0417/3", false);
    REQUIRE(plain);
    CHECK(plain->plain == "SN 0417/3");
    CHECK(plain->serial.empty());
    for (const auto& [text, is_marked] :
         {std::pair{"", false}, {"(01)09506000134353", false}, {"0109506000134353", true}, {"(01)0950600013435210", false}, {"0109506", true},
          {"(01)09506000134352(17)271331", false}, {"(01)09506000134352(10)", false}, {"(01)09506000134352(10)ABCDEFGHIJKLMNOPQRSTU", false},
          {"(01)09506000134352(x)1", false}, {"AB12", true}, {"https://id.example/help", false}, {"https://id.example/01/09506000134353", false}}) {
        CAPTURE(text);
        CHECK_FALSE(read_plate_text(text, is_marked));
    }
}

}  // namespace wm::desk
