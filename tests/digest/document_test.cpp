#include "digest/document.hpp"

#include <doctest/doctest.h>

using namespace wm::digest;

namespace {

Document number(std::int64_t n) {
    return Document{n};
}

std::string again(std::string_view text) {
    const auto document = read_document(text, "test");
    REQUIRE(document);
    return canonical_text(*document).value();
}

}  // namespace

TEST_CASE("members stand in the order of their UTF-16 units") {
    // Source: RFC 8785 section 3.2.3, the seven names of its example and their order.
    Document names = Document::object();
    for (const char* name :
         {"\xe2\x82\xac", "\r", "\xef\xac\xb3", "1", "\xf0\x9f\x98\x80", "\xc2\x80", "\xc3\xb6"}) {
        names.set(name, number(1));
    }
    CHECK(canonical_text(names).value() ==
          "{\"\\r\":1,\"1\":1,\"\xc2\x80\":1,\"\xc3\xb6\":1,\"\xe2\x82\xac\":1,"
          "\"\xf0\x9f\x98\x80\":1,\"\xef\xac\xb3\":1}");
}

TEST_CASE("text is escaped in the shortest way") {
    // Source: RFC 8785 section 3.2.2.2.
    CHECK(canonical_text(Document{std::string{"\b\t\n\f\r\"\\/\x01\x1f\x7f€"}}).value() ==
          "\"\\b\\t\\n\\f\\r\\\"\\\\/\\u0001\\u001f\x7f€\"");
    CHECK(canonical_text(Document{std::string("\0", 1)}).value() == "\"\\u0000\"");
}

TEST_CASE("every kind of value has one spelling") {
    Document all = Document::object();
    all.set("n", Document{}).set("t", Document{true}).set("f", Document{false});
    Document list = Document::array();
    list.add(number(0)).add(number(-7)).add(Document{""}).add(Document::object());
    all.set("list", list);
    CHECK(canonical_text(all).value() == R"({"f":false,"list":[0,-7,"",{}],"n":null,"t":true})");
}

TEST_CASE("spaces, order and escapes of a tolerant reading vanish in the canonical text") {
    CHECK(again(" { \"b\" : [ 1 , 2 ],\n\"a\":\"\\u00e9\\/\" } ") == "{\"a\":\"é/\",\"b\":[1,2]}");
    CHECK(again("\"\\ud83d\\ude00\"") == "\"\xf0\x9f\x98\x80\"");
}

TEST_CASE("the canonical reader takes canonical text and nothing else") {
    for (const char* text : {"{\"a\":1,\"b\":[null,true]}", "\"é\"", "-3", "[]", "\"\\u0000\""}) {
        CAPTURE(text);
        const auto document = read_canonical(text, "test");
        REQUIRE(document);
        CHECK(canonical_text(*document).value() == text);
    }
    for (const char* text : {"{\"b\":1,\"a\":1}", "{\"a\": 1}", "[1] ", "\"\\u00e9\"", "\"\\/\"",
                             "\"\\u001F\"", "\"e\xcc\x81\""}) {
        CAPTURE(text);
        CHECK_FALSE(read_canonical(text, "test"));
    }
}

TEST_CASE("what is no document of integers and text is refused") {
    for (const char* text : {"",
                             "{",
                             "[1,]",
                             "{\"a\":1,}",
                             "{\"a\":1 \"b\":2}",
                             "{\"a\" 1}",
                             "{a:1}",
                             "1.5",
                             "1e3",
                             "01",
                             "-0",
                             "-",
                             "+1",
                             "9007199254740992",
                             "-9007199254740992",
                             "99999999999999999999",
                             "tru",
                             "\"\x01\"",
                             "\"a",
                             "\"\\x\"",
                             "\"\\ud800\"",
                             "\"\\udc00\"",
                             "\"\\u12g4\"",
                             "\"\xff\"",
                             "1 2",
                             "{\"a\":1,\"a\":2}",
                             "\"\\u12",
                             "\"\\",
                             "NaN",
                             "'a'"}) {
        CAPTURE(text);
        const auto document = read_document(text, "line 3");
        REQUIRE_FALSE(document);
        CHECK(document.error().where == "line 3");
        CHECK_FALSE(document.error().what.empty());
        CHECK_FALSE(document.error().what_to_do.empty());
    }
}

TEST_CASE("the message about a broken text says where it broke") {
    CHECK(read_document("[1,2.5]", "entry 9").error() ==
          wm::Problem{"The text holds a number that is not whole (byte 3).", "entry 9",
                      "Take the text from its source again; it was cut or changed.",
                      wm::ProblemKind::Unreadable});
}

TEST_CASE("integers below 2^53 pass and larger ones are not written") {
    CHECK(canonical_text(number(9007199254740991)).value() == "9007199254740991");
    CHECK_FALSE(canonical_text(number(9007199254740992)));
    CHECK_FALSE(canonical_text(number(-9007199254740992)));
}

TEST_CASE("text in two possible spellings is not written") {
    CHECK_FALSE(canonical_text(Document{"e\xcc\x81"}));
    CHECK_FALSE(canonical_text(Document{"\xc3("}));
    Document object = Document::object();
    object.set("\xff", number(1));
    CHECK_FALSE(canonical_text(object));
}

TEST_CASE("nesting beyond 64 levels is refused without a crash") {
    CHECK(read_document(std::string(64, '[') + std::string(64, ']'), "test"));
    CHECK_FALSE(read_document(std::string(100000, '['), "test"));
}

TEST_CASE("a member set twice has the later value and is found by name") {
    Document object = Document::object();
    object.set("a", number(1)).set("b", number(2)).set("a", number(3));
    REQUIRE(object.find("a") != nullptr);
    CHECK(*object.find("a")->integer() == 3);
    CHECK(object.find("c") == nullptr);
    CHECK(Document{"text"}.find("a") == nullptr);
    CHECK(object.members()->size() == 2);
}

TEST_CASE("two documents are equal when their values are") {
    CHECK(Document{"a"} == Document{"a"});
    CHECK_FALSE(Document{"1"} == number(1));
    const Document nothing;
    const Document no{false};
    CHECK_FALSE(nothing == no);
}

TEST_CASE("what the canonical reader takes, however it was spoilt, is spelt again byte for byte") {
    // The reader takes canonical text at one look; reading it as any text and spelling it again is the other way to know.
    const std::string sound =
        R"({"a":{"b":[0,-7,"é\"\\\n\u0001",{}],"c":"ü"},"kind":"reading","list":["x",true,null],"z":9007199254740991})";
    REQUIRE(read_canonical(sound, "test"));
    const std::vector<std::string> pieces = {" ", "\\u0041", "\\/", "\\u001F", "0", "-0", "1.0", "e\xcc\x81", "\xc3", ",", "\"b\":1,", "\t", "\\ud83d\\ude00"};
    std::uint32_t dice = 7;
    const auto below = [&](std::size_t end) {
        dice = dice * 1664525U + 1013904223U;
        return static_cast<std::size_t>(dice >> 8U) % end;
    };
    int taken = 0, refused_ones = 0;
    for (int run = 0; run < 20000; ++run) {
        std::string text = sound;
        const std::size_t at = below(text.size());
        switch (below(4)) {
            case 0: text[at] = static_cast<char>(below(256)); break;
            case 1: text.erase(at, 1 + below(4)); break;
            case 2: text.insert(at, pieces[below(pieces.size())]); break;
            default: std::swap(text[at], text[below(text.size())]); break;
        }
        const auto canonical = read_canonical(text, "test");
        const auto any = read_document(text, "test");
        const bool is_the_one = any && canonical_text(*any).value_or("") == text;
        CAPTURE(text);
        CHECK(canonical.has_value() == is_the_one);
        if (canonical) CHECK(*canonical == *any);
        ++(canonical ? taken : refused_ones);
    }
    CHECK(taken > 1000);
    CHECK(refused_ones > 10000);
}
