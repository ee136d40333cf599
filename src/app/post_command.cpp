// `post list`, `post send`, `post save`.
#include <fmt/format.h>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "app/window_settings.hpp"
#include "desk/outbox.hpp"

namespace wm::app {

namespace {

Output post_list(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    if (!has_journal(world)) return nothing_yet(world, "messages", form);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    const auto all = desk::messages(*desk);
    if (!all) return told_as(all.error(), form);
    Output output;
    Json list = Json::array();
    for (const auto& message : *all) {
        list.push_back(in_json(message));
        output.data += fmt::format("{:<14} {:<12} {}\n{:<14} {}\n", message.job, message.state, message.subject, "",
                                   message.state_words);
    }
    if (form == Form::Json) output.data = document({{"messages", list}});
    else if (all->empty()) output.talk = "The outbox is empty.\n";
    return output;
}

// The server named here, else the one of the settings.
Result<desk::Send> sender_from(const Arguments& arguments, const World& world) {
    if (!arguments.has("server")) {
        if (mail_server_of(world.data).empty())
            return refused({"No mail server is named.", "post send",
                            "Write --server smtp://host:port or smtps://host:port, or name one in settings.toml.",
                            ProblemKind::WrongUse});
        return sender_of(world.data);
    }
    post::MailServer server{.url = arguments.value("server"), .user = arguments.value("user"), .password = "",
                            .ca_file = arguments.value("ca")};
    if (arguments.has("password-file")) {
        auto text = read_file(arguments.value("password-file"));
        if (!text) return tl::unexpected(text.error());
        server.password = text->substr(0, text->find_first_of("\r\n"));
    }
    return desk::Send{[server](const std::string& from, const std::vector<std::string>& to, const std::string& message) {
        return post::send_message(server, from, to, message);
    }};
}

Output post_send(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    auto send = sender_from(arguments, world);
    if (!send) return told_as(send.error(), form);
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    const auto posted = desk::send_messages(*desk, *send, desk::Which::AllWaiting);
    if (!posted) return told_as(posted.error(), form);
    const auto all = desk::messages(*desk);
    Output output;
    output.code = posted->waiting + posted->stopped > 0 ? 4 : 0;
    output.talk = fmt::format("{} sent, {} waiting, {} need a person.\n", posted->sent, posted->waiting, posted->stopped);
    if (all)
        for (const auto& message : *all)
            if (message.state != "sent") output.talk += message.job + ": " + message.state_words + "\n";
    if (form == Form::Json)
        output.data = document({{"sent", posted->sent}, {"waiting", posted->waiting}, {"stopped", posted->stopped}});
    return output;
}

Output post_save(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto folder = arguments.word(2, "The folder");
    if (!folder) return told_as(folder.error(), form);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    const auto files = desk::messages_as_files(*desk);
    if (!files) return told_as(files.error(), form);
    Output output;
    Json list = Json::array();
    for (const auto& file : *files) {
        const auto path = std::filesystem::path{*folder} / file.file_name;
        if (const auto done = write_file(path, file.bytes); !done) return told_as(done.error(), form);
        list.push_back(path.string());
        output.data += path.string() + "\n";
    }
    if (form == Form::Json) output.data = document({{"files", list}});
    return output;
}

}  // namespace

Output run_post(const Arguments& arguments, const World& world) {
    const auto what = arguments.word(1, "What to do (list, send, save)");
    if (!what) return told_as(what.error(), form_of(arguments));
    if (*what == "list") return post_list(arguments, world);
    if (*what == "send") return post_send(arguments, world);
    if (*what == "save") return post_save(arguments, world);
    return told_as({fmt::format("There is no \"post {}\".", *what), "post", "Use post list, post send or post save.",
                    ProblemKind::WrongUse},
                   form_of(arguments));
}

}  // namespace wm::app
