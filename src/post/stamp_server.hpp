// Asking a stamp server over the network.
#pragma once

#include <string>

#include "problem/result.hpp"

namespace wm::post {

struct StampServer {
    std::string url;      ///< http:// or https://; the question and the answer are no secret
    std::string ca_file;  ///< a certificate to trust for https; empty for those of the system
    long timeout_s = 10;  ///< of the whole exchange: nobody waits on a roof for a stamp
};

/// Sends a TimeStampReq and gives the answer unread. Source: RFC 3161, section 3.4. A problem for
/// another kind of address, no network, silence, an answer other than 200 or longer than 64 KiB.
[[nodiscard]] Result<std::string> ask_for_stamp(const StampServer& server, const std::string& request);

}  // namespace wm::post
