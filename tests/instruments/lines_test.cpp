#include "instruments/lines.hpp"

#include <doctest/doctest.h>

using namespace wm::instruments;

TEST_CASE("numbers are those of IEEE 488.2, with a comma taken for the point") {
    // NR1, NR2 and NR3 of IEEE 488.2, from memory.
    struct Row {
        const char* text;
        double value;
    };
    for (const Row row : {Row{"480", 480.0}, Row{"+480", 480.0}, Row{"-2.5", -2.5}, Row{".5", 0.5}, Row{"+4.8050E+02", 480.5}, Row{" 41,5 ", 41.5}, Row{"1e-3", 0.001}}) {
        CAPTURE(row.text);
        CHECK(sent_number(row.text) == row.value);
    }
    for (const char* text : {"", " ", "+", ".", "4 8", "0x10", "nan", "inf", "1e400", "--1", "1.2.3", "480kPa", "1e"}) {
        CAPTURE(text);
        CHECK_FALSE(sent_number(text));
    }
}

TEST_CASE("the numbers that stand for no reading are no reading") {
    CHECK(scpi_number("+4.80000E+02", "here").value() == 480.0);
    // SCPI 1999.0, from memory: infinity, its negative, not a number.
    for (const char* text : {"9.9E37", "-9.9E+37", "9.91E37"}) {
        CAPTURE(text);
        REQUIRE_FALSE(scpi_number(text, "here"));
        CHECK(scpi_number(text, "here").error().again == Again::No);
    }
    CHECK(scpi_number("480,481", "here").error().again == Again::Yes);
    CHECK(scpi_number("hello\x07", "here").error().problem.what == "The instrument answered \"hello\\x07\", which is no number.");
}

TEST_CASE("an identity has four fields, and the third is the serial number unless it is 0") {
    // IEEE 488.2, *IDN?, from memory: maker, model, serial number or 0, firmware or 0.
    CHECK(scpi_serial("Tarnhollow Works,T2,TH-0042,1.3", "here").value() == "TH-0042");
    CHECK(scpi_serial("Tarnhollow Works, T2, 0, 0", "here").value().empty());
    CHECK_FALSE(scpi_serial("T2,TH-0042,1.3", "here"));
    CHECK_FALSE(scpi_serial("", "here"));
    CHECK_FALSE(scpi_serial("a,b,c,d,e", "here"));
}

TEST_CASE("the list of errors is empty, or tells what is wrong") {
    CHECK(scpi_error("0,\"No error\"", "here"));
    CHECK(scpi_error("+0,\"No error\"", "here"));
    CHECK(scpi_error("-113,\"Undefined header\"", "here").error().problem.what == "The instrument reports an error: -113,\"Undefined header\".");
    CHECK(scpi_error("-113,\"Undefined header\"", "here").error().again == Again::No);
    CHECK(scpi_error("what", "here").error().again == Again::Yes);
}

TEST_CASE("a pattern finds its value, past noise only where it begins with a word of its own") {
    CHECK(found_in("PEAK 23.5 Nm", "PEAK {value} Nm") == "23.5");
    CHECK(found_in("PEAK    23.5 Nm  ", "PEAK {value} Nm") == "23.5");
    CHECK(found_in("\x7f#!PEAK 23.5 Nm", "PEAK {value} Nm") == "23.5");
    CHECK(found_in("PEPEAK 23.5 Nm", "PEAK {value} Nm") == "23.5");
    CHECK(found_in("  23.5 Nm", "{value} Nm") == "23.5");
    CHECK(found_in("SN 4711-93", "SN {serial}") == "4711-93");
    // What is no reading: another unit, a digit of noise, a cut line, more behind it.
    CHECK_FALSE(found_in("PEAK 23.5 Nmm", "PEAK {value} Nm"));
    CHECK_FALSE(found_in("PEAK 23.5 lbf", "PEAK {value} Nm"));
    CHECK_FALSE(found_in("#3 23.5 Nm", "{value} Nm"));
    CHECK_FALSE(found_in("4#80 kPa", "{value} kPa"));
    CHECK_FALSE(found_in("PEAK 23.", "PEAK {value} Nm"));
    CHECK_FALSE(found_in("PEAK 23 5 Nm", "PEAK {value} Nm"));
    CHECK_FALSE(found_in("", "{value}"));
    CHECK(shown_bytes("a\r\x80") == "a\\x0d\\x80");
}
