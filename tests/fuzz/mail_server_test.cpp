// What a mail server answers: spoilt replies lead to no crash, no word of "sent" too early, and no second line.
#include "fuzz/spoil.hpp"
#include "fuzz/tls_loopback.hpp"
#include "post/smtp.hpp"
#include "temporary_folder.hpp"

using namespace wm;

namespace {

const std::string message = "From: a@tarnhollow.example\r\nTo: b@tarnhollow.example\r\nSubject: report\r\n\r\nwhole\r\n";

}  // namespace

TEST_CASE("what a mail server refuses before it was told of a message is the connection, and the message waits") {
    const TemporaryFolder folder;
    const std::string trust = (folder.path() / "trust.pem").string();
    fuzz::MailServer server{trust};
    const std::string turned_away =
        "The mail server turned this connection away before it was told of the message. If it goes on so, ask whoever runs it. "
        "The server said: ";
    const std::string wants_login =
        "The mail server takes messages only with user name and password. Enter them in the settings. The server said: ";
    // RFC 5321, 3.1 and 3.2: a server may greet with 554 and take no mail; one that answers EHLO with 500 or 502 is spoken to with HELO.
    // RFC 4954, 4 and 6: 454 at AUTH is for now, 530 wants a login first.
    struct Row {
        std::string dialogue;
        post::PostState state;
        std::string answer;
        bool offered;
    };
    const Row rows[] = {
        {"554 no mail here\n221 bye\n", post::PostState::Waiting, turned_away + "554 no mail here", false},
        {"220 hello\n554 not you\n554 not you\n221 bye\n", post::PostState::Waiting, turned_away + "554 not you", false},
        {"220 hello\n502 what\n250 good day\n250 fine\n250 fine\n354 go on\n250 kept\n221 bye\n", post::PostState::Sent,
         "The mail server took the message. The server said: 250 kept", true},
        {"220 hello\n502 what\n250 good day\n530 5.7.0 log in\n221 bye\n", post::PostState::CannotSend, wants_login + "530 5.7.0 log in",
         true},
        {"220 hello\n250-fine\n250 AUTH PLAIN LOGIN\n334 \n454 4.7.0 later\n221 bye\n", post::PostState::Waiting,
         "The mail server asks to come back later. The server said: 454 4.7.0 later", false},
        // The control: the same code once the message is known is about the message.
        {"220 hello\n502 what\n250 good day\n554 not this\n221 bye\n", post::PostState::Refused,
         "The mail server refused the message for good. The server said: 554 not this", true},
        {"220 hello\n502 what\n250 good day\n250 fine\n250 fine\n354 go on\n554 not this\n221 bye\n", post::PostState::Refused,
         "The mail server refused the message for good. The server said: 554 not this", true},
    };
    for (const Row& row : rows) {
        CAPTURE(row.dialogue);
        std::string dialogue;
        for (const char letter : row.dialogue) dialogue += letter == '\n' ? std::string{"\r\n"} : std::string{letter};
        server.say(dialogue);
        const auto attempt = post::send_message({.url = server.url(), .user = "crew", .password = "four words of it", .ca_file = trust, .timeout_s = 5},
                                                "a@tarnhollow.example", {"b@tarnhollow.example"}, message);
        CHECK(attempt.state == row.state);
        CHECK(attempt.answer == row.answer);
        CHECK((server.heard().find("MAIL FROM:") != std::string::npos) == row.offered);
    }
}

TEST_CASE("replies of a mail server: a message counts as sent only once it has left whole, and the answer is one line") {
    const TemporaryFolder folder;
    const std::string trust = (folder.path() / "trust.pem").string();
    fuzz::MailServer server{trust};
    const auto send = [&](const std::string& dialogue) {
        server.say(dialogue);
        return post::send_message({.url = server.url(), .user = "crew", .password = "four words of it", .ca_file = trust, .timeout_s = 2},
                                  "a@tarnhollow.example", {"b@tarnhollow.example"}, message);
    };
    const std::string refused_for_good = fuzz::corpus_file("mail_server/refused.txt");
    // What the codes mean: RFC 5321, 4.2.1 (4yz come back, 5yz for good) and RFC 4954, 6 (535).
    CHECK(send(fuzz::corpus_file("mail_server/taken.txt")).state == post::PostState::Sent);
    CHECK(send(refused_for_good).state == post::PostState::Refused);
    CHECK(send(fuzz::corpus_file("mail_server/later.txt")).state == post::PostState::Waiting);
    CHECK(send(fuzz::corpus_file("mail_server/login.txt")).state == post::PostState::CannotSend);

    int sent = 0;
    fuzz::run("mail server", fuzz::corpus("mail_server"), 250, [&](const std::string& dialogue) -> std::string {
        const auto attempt = send(dialogue);
        const std::string& heard = server.heard();
        if (attempt.answer.empty()) return "an attempt without words";
        if (attempt.answer.find_first_of("\r\n") != std::string::npos || attempt.answer.find('\0') != std::string::npos)
            return "an answer of more than one line";
        if (attempt.answer.find("four words of it") != std::string::npos) return "the password in an answer";
        if (attempt.state != post::PostState::Sent) return "";
        ++sent;
        return heard.find("\r\n\r\nwhole\r\n.\r\n") != std::string::npos ? "" : "sent, and yet the message never left whole";
    });
    CHECK(sent > 10);
}
