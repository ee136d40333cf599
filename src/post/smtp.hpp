// Handing one message to a mail server, always under TLS.
#pragma once

#include <string>
#include <vector>

#include "post/retry.hpp"

namespace wm::post {

struct MailServer {
    std::string url;  ///< smtp://host:port (turned to TLS before anything is said) or smtps://host:port
    std::string user;
    std::string password;
    std::string ca_file;  ///< a certificate to trust; empty for those of the system
    long timeout_s = 30;
};

/// One try. A server that offers no TLS, or a certificate that is not trusted, is never spoken to
/// further: the message stays. A temporary refusal (4xx), silence or no network is Waiting, and so is any
/// refusal before the server was told of the message (greeting, EHLO, HELO: it is the connection that is
/// refused); a permanent refusal (5xx) of the message is Refused; a wrong password or certificate, or a login
/// that is wanted (530), is CannotSend.
[[nodiscard]] Attempt send_message(const MailServer& server, const std::string& from,
                                   const std::vector<std::string>& to, const std::string& message);

}  // namespace wm::post
