#include "desk/outbox.hpp"

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;

namespace {

/// A mail server that answers as it is told and remembers what it was given.
struct Server {
    post::Attempt answer{post::PostState::Sent, "250 kept"};
    std::vector<std::string> taken;

    Send send() {
        return [this](const std::string&, const std::vector<std::string>&, const std::string& bytes) {
            taken.push_back(bytes);
            return answer;
        };
    }
};

void finish(Bench& bench) {
    bench.do_all();
    bench.sign_both();
    const auto handed = bench.desk().carry_out(HandOver{bench.job});
    REQUIRE_MESSAGE(handed, (handed ? "" : told(handed.error())));
}

MessageView only_message(Bench& bench) {
    const auto all = messages(bench.desk());
    REQUIRE(all);
    REQUIRE(all->size() == 1);
    return all->front();
}

}  // namespace

TEST_CASE("a message goes from waiting to sent, and is sent once") {
    Bench bench;
    finish(bench);
    CHECK(only_message(bench).state == "waiting");
    CHECK(only_message(bench).tries == 0);
    CHECK(only_message(bench).to == "Ansa.Velmorrin@example.org");
    Server server;
    server.answer = {post::PostState::Waiting, "451 come back"};
    auto posted = send_messages(bench.desk(), server.send(), Which::AllWaiting);
    REQUIRE(posted);
    CHECK(posted->waiting == 1);
    const auto waiting = only_message(bench);
    CHECK(waiting.state == "waiting");
    CHECK(waiting.last_answer == "451 come back");
    const auto next = read_moment(waiting.next_try);
    REQUIRE(next);
    const auto wait_s = (next->wall_ms - *bench.clock.wall_ms) / 1000;
    CHECK(wait_s >= 50);
    CHECK(wait_s <= 66);

    // Not due yet, so nobody is bothered by itself.
    REQUIRE(send_messages(bench.desk(), server.send(), Which::DueNow));
    CHECK(server.taken.size() == 1);
    *bench.clock.wall_ms += 120'000;
    server.answer = {post::PostState::Sent, "250 kept"};
    posted = send_messages(bench.desk(), server.send(), Which::DueNow);
    REQUIRE(posted);
    CHECK(posted->sent == 1);
    CHECK(only_message(bench).state == "sent");
    CHECK(only_message(bench).tries == 2);
    REQUIRE(send_messages(bench.desk(), server.send(), Which::AllWaiting));
    REQUIRE(server.taken.size() == 2);
    CHECK(server.taken[0] == server.taken[1]);
    CHECK(server.taken[0].find("Message-Id: <" + only_message(bench).message + ">") != std::string::npos);
}

TEST_CASE("a refusal for good is not tried again") {
    Bench bench;
    finish(bench);
    Server server;
    server.answer = {post::PostState::Refused, "550 no such person"};
    CHECK(send_messages(bench.desk(), server.send(), Which::AllWaiting)->stopped == 1);
    CHECK(only_message(bench).state == "refused");
    REQUIRE(send_messages(bench.desk(), server.send(), Which::AllWaiting));
    CHECK(server.taken.size() == 1);
}

TEST_CASE("what waits for a person is tried again only when a person asks") {
    Bench bench;
    finish(bench);
    Server server;
    server.answer = {post::PostState::CannotSend, "535 wrong password"};
    CHECK(send_messages(bench.desk(), server.send(), Which::DueNow)->stopped == 1);
    CHECK(only_message(bench).state == "cannot send");
    *bench.clock.wall_ms += 86'400'000;
    REQUIRE(send_messages(bench.desk(), server.send(), Which::DueNow));
    CHECK(server.taken.size() == 1);
    server.answer = {post::PostState::Sent, "250 kept"};
    CHECK(send_messages(bench.desk(), server.send(), Which::AllWaiting)->sent == 1);
}

TEST_CASE("the journal keeps a server's words without the address, in whatever bytes they come") {
    Bench bench;
    finish(bench);
    Server server;
    server.answer = {post::PostState::Refused, "550 <ANSA.VELMORRIN@EXAMPLE.ORG> unbekannt \xfc" + std::string(900, 'x')};
    const auto posted = send_messages(bench.desk(), server.send(), Which::AllWaiting);
    REQUIRE_MESSAGE(posted, (posted ? "" : told(posted.error())));
    const auto answer = only_message(bench).last_answer;
    CHECK(answer.find("550 <(the address)> unbekannt ?") == 0);
    CHECK(answer.size() <= 400);
}

TEST_CASE("a message is saved as the very bytes of a try") {
    Bench bench;
    finish(bench);
    Server server;
    REQUIRE(send_messages(bench.desk(), server.send(), Which::AllWaiting));
    const auto files = messages_as_files(bench.desk());
    REQUIRE(files);
    REQUIRE(files->size() == 1);
    CHECK(files->front().file_name == bench.job + ".eml");
    CHECK(files->front().bytes == server.taken.front());
}

TEST_CASE("the message of an erased customer is neither sent nor in the way of others") {
    Bench bench;
    finish(bench);
    REQUIRE(bench.desk().erase_customer(bench.job));
    Server server;
    const auto posted = send_messages(bench.desk(), server.send(), Which::AllWaiting);
    REQUIRE_MESSAGE(posted, (posted ? "" : told(posted.error())));
    CHECK(server.taken.empty());
    CHECK(messages_as_files(bench.desk())->empty());
    CHECK(only_message(bench).to == "(erased)");
}

}  // namespace wm::desk
