#include "post/smtp.hpp"

#include <curl/curl.h>
#include <fmt/format.h>

#include <algorithm>
#include <cstring>
#include <memory>
#include <mutex>

#include "post/address.hpp"

namespace wm::post {

namespace {

struct Upload {
    const std::string* bytes;
    std::size_t at = 0;
};

std::size_t give(char* buffer, std::size_t size, std::size_t count, void* user) {
    auto* upload = static_cast<Upload*>(user);
    const std::size_t n = std::min(size * count, upload->bytes->size() - upload->at);
    std::memcpy(buffer, upload->bytes->data() + upload->at, n);
    upload->at += n;
    return n;
}

std::size_t hear(char* line, std::size_t size, std::size_t count, void* user) {
    auto* last = static_cast<std::string*>(user);
    const std::string_view text{line, size * count};
    // Only the lines that carry a code; greeting and capability lines overwrite each other. The
    // server's goodbye (221) says nothing of the message.
    if (text.size() >= 4 && text[0] >= '2' && text[0] <= '5' && !text.starts_with("221")) *last = header_text(text);
    return size * count;
}

// Before MAIL nothing was said of the message: what the server refuses until then is this connection.
int note_offer(CURL*, curl_infotype type, char* words, std::size_t size, void* user) {
    if (type == CURLINFO_HEADER_OUT && std::string_view{words, size}.starts_with("MAIL ")) *static_cast<bool*>(user) = true;
    return 0;
}

std::string with(std::string sentence, const std::string& said) {
    return said.empty() ? sentence : sentence + " The server said: " + said;
}

enum class Offered { No, Yes };  ///< whether the server was told of the message

/// After a reply of 4xx or 5xx (RFC 5321, 4.2.1).
Attempt refusal(long reply, Offered offered, const std::string& said) {
    constexpr long wants_login = 530;  // RFC 4954, 6
    if (reply < 500) return {PostState::Waiting, with("The mail server asks to come back later.", said)};
    if (reply == wants_login)
        return {PostState::CannotSend,
                with("The mail server takes messages only with user name and password. Enter them in the settings.", said)};
    if (offered == Offered::No)
        return {PostState::Waiting,
                with("The mail server turned this connection away before it was told of the message. If it goes on so, ask whoever runs "
                     "it.",
                     said)};
    return {PostState::Refused, with("The mail server refused the message for good.", said)};
}

Attempt judged(CURLcode code, long reply, Offered offered, const std::string& said, const std::string& url) {
    const bool is_for_now = reply >= 400 && reply < 500;
    // As a plain number: the library adds codes, and the ones not named here are judged by the reply.
    switch (static_cast<int>(code)) {
        case CURLE_OK: return {PostState::Sent, with("The mail server took the message.", said)};
        case CURLE_LOGIN_DENIED:
            if (is_for_now) break;
            return {PostState::CannotSend,
                    with("The mail server did not accept user name or password. Enter them again in the settings.",
                         said)};
        case CURLE_PEER_FAILED_VERIFICATION:
        case CURLE_SSL_ISSUER_ERROR:
            return {PostState::CannotSend,
                    fmt::format("The certificate of {} is not trusted, so nothing was sent. Ask whoever runs the "
                                "mail server for its certificate and name it in the settings.",
                                url)};
        case CURLE_SSL_CACERT_BADFILE:
            return {PostState::CannotSend,
                    "The certificate to trust cannot be read, so nothing was sent. Name its file (PEM) again in the "
                    "settings."};
        case CURLE_USE_SSL_FAILED:
            if (is_for_now) break;
            return {PostState::CannotSend,
                    fmt::format("{} offers no encryption, so nothing was sent. Use another mail server.", url)};
        case CURLE_COULDNT_RESOLVE_HOST:
            return {PostState::Waiting, fmt::format("The mail server {} was not found; perhaps there is no network.", url)};
        case CURLE_COULDNT_CONNECT:
            return {PostState::Waiting, fmt::format("The mail server {} was not reached.", url)};
        case CURLE_OPERATION_TIMEDOUT:
            return {PostState::Waiting, fmt::format("The mail server {} did not answer in time.", url)};
        default: break;
    }
    if (reply >= 400) return refusal(reply, offered, said);
    return {PostState::Waiting, with(fmt::format("The message was not sent: {}.", curl_easy_strerror(code)), said)};
}

}  // namespace

Attempt send_message(const MailServer& server, const std::string& from, const std::vector<std::string>& to,
                     const std::string& message) {
    static std::once_flag once;
    std::call_once(once, [] { curl_global_init(CURL_GLOBAL_DEFAULT); });
    if (!server.url.starts_with("smtp://") && !server.url.starts_with("smtps://"))
        return {PostState::CannotSend,
                fmt::format("\"{}\" is no mail server. Write smtp://host:port or smtps://host:port.",
                            header_text(server.url))};
    std::unique_ptr<CURL, decltype(&curl_easy_cleanup)> curl{curl_easy_init(), &curl_easy_cleanup};
    if (!curl) return {PostState::Waiting, "There was not enough memory to send the message."};
    CURL* c = curl.get();
    Upload upload{&message};
    std::string said;
    bool is_offered = false;
    curl_slist* list = nullptr;
    for (const auto& address : to) list = curl_slist_append(list, ("<" + address + ">").c_str());
    std::unique_ptr<curl_slist, decltype(&curl_slist_free_all)> recipients{list, &curl_slist_free_all};
    curl_easy_setopt(c, CURLOPT_URL, server.url.c_str());
    curl_easy_setopt(c, CURLOPT_PROTOCOLS_STR, "smtp,smtps");
    curl_easy_setopt(c, CURLOPT_USE_SSL, static_cast<long>(CURLUSESSL_ALL));
    if (!server.ca_file.empty()) curl_easy_setopt(c, CURLOPT_CAINFO, server.ca_file.c_str());
    if (!server.user.empty()) {
        curl_easy_setopt(c, CURLOPT_USERNAME, server.user.c_str());
        curl_easy_setopt(c, CURLOPT_PASSWORD, server.password.c_str());
    }
    curl_easy_setopt(c, CURLOPT_MAIL_FROM, ("<" + from + ">").c_str());
    curl_easy_setopt(c, CURLOPT_MAIL_RCPT, recipients.get());
    curl_easy_setopt(c, CURLOPT_READFUNCTION, give);
    curl_easy_setopt(c, CURLOPT_READDATA, &upload);
    curl_easy_setopt(c, CURLOPT_HEADERFUNCTION, hear);
    curl_easy_setopt(c, CURLOPT_HEADERDATA, &said);
    curl_easy_setopt(c, CURLOPT_DEBUGFUNCTION, note_offer);
    curl_easy_setopt(c, CURLOPT_DEBUGDATA, &is_offered);
    curl_easy_setopt(c, CURLOPT_VERBOSE, 1L);
    curl_easy_setopt(c, CURLOPT_UPLOAD, 1L);
    curl_easy_setopt(c, CURLOPT_CONNECTTIMEOUT, server.timeout_s);
    curl_easy_setopt(c, CURLOPT_TIMEOUT, server.timeout_s * 4);
    curl_easy_setopt(c, CURLOPT_NOSIGNAL, 1L);
    curl_easy_setopt(c, CURLOPT_PROXY, "");
    const CURLcode code = curl_easy_perform(c);
    long reply = 0;
    curl_easy_getinfo(c, CURLINFO_RESPONSE_CODE, &reply);
    return judged(code, reply, is_offered ? Offered::Yes : Offered::No, said, server.url);
}

}  // namespace wm::post
