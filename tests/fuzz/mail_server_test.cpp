// What a mail server answers: spoilt replies lead to no crash, no word of "sent" too early, and no second line.
#include "fuzz/spoil.hpp"
#include "fuzz/tls_loopback.hpp"
#include "post/smtp.hpp"
#include "temporary_folder.hpp"

using namespace wm;

namespace {

const std::string message = "From: a@tarnhollow.example\r\nTo: b@tarnhollow.example\r\nSubject: report\r\n\r\nwhole\r\n";

}  // namespace

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
