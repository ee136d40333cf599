// The outbox: what waits, what each try came to, and the messages as files.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "desk/desk.hpp"
#include "post/message.hpp"
#include "post/smtp.hpp"

namespace wm::desk {

/// One try of one message; tests put a function of their own in place of the network.
using Send = std::function<post::Attempt(const std::string& from, const std::vector<std::string>& to,
                                         const std::string& message)>;

enum class Which { DueNow, AllWaiting };

struct Posted {
    int sent = 0;
    int waiting = 0;
    int stopped = 0;  ///< refused, or waiting for a person
};

struct SavedMessage {
    std::string file_name;  ///< "J-1a2b-0001.eml"
    std::string bytes;
};

[[nodiscard]] Result<std::vector<MessageView>> messages(Desk& desk);

/// Tries each message that waits and records what came of it. Never zero times: the try is on
/// record only after it was made, so a message is rather sent twice than lost; both bear one id.
[[nodiscard]] Result<Posted> send_messages(Desk& desk, const Send& send, Which which);

[[nodiscard]] Result<std::vector<SavedMessage>> messages_as_files(Desk& desk);

/// What the message carries: the report itself, or a supplement to it.
struct IssuedReport {
    std::string state;   ///< full, restricted
    int supplement = 0;  ///< 0 for the report itself
};

/// The message to the customer that carries a report; nullopt in `to` is the caller's to see.
[[nodiscard]] post::Message handover_message(const JobInHand& job, const Setup& setup, const IssuedReport& issued,
                                             const std::string& pdf, const std::string& calendar,
                                             const std::string& card);

}  // namespace wm::desk
