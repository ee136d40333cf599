#include "post/stamp_server.hpp"

#include <curl/curl.h>
#include <fmt/format.h>

#include <memory>

namespace wm::post {

namespace {

constexpr std::size_t longest_answer = 64 * 1024;

std::size_t take(char* bytes, std::size_t size, std::size_t count, void* user) {
    auto* answer = static_cast<std::string*>(user);
    if (answer->size() + size * count > longest_answer) return 0;
    answer->append(bytes, size * count);
    return size * count;
}

tl::unexpected<Problem> not_stamped(std::string what, const std::string& url) {
    return refused({.what = std::move(what),
                    .where = url,
                    .what_to_do = "The report is good without a time stamp. Issue it again when the network is back.",
                    .kind = ProblemKind::NotStored});
}

}  // namespace

Result<std::string> ask_for_stamp(const StampServer& server, const std::string& request) {
    if (!server.url.starts_with("http://") && !server.url.starts_with("https://"))
        return refused({"This is no address of a stamp server.", server.url, "Write http://host/path or https://host/path.",
                        ProblemKind::WrongUse});
    const std::unique_ptr<CURL, decltype(&curl_easy_cleanup)> curl{curl_easy_init(), &curl_easy_cleanup};
    if (!curl) return not_stamped("There was not enough memory to ask for a time stamp.", server.url);
    CURL* c = curl.get();
    curl_slist* list = curl_slist_append(nullptr, "Content-Type: application/timestamp-query");
    const std::unique_ptr<curl_slist, decltype(&curl_slist_free_all)> headers{list, &curl_slist_free_all};
    std::string answer;
    curl_easy_setopt(c, CURLOPT_URL, server.url.c_str());
    curl_easy_setopt(c, CURLOPT_PROTOCOLS_STR, "http,https");
    curl_easy_setopt(c, CURLOPT_HTTPHEADER, headers.get());
    curl_easy_setopt(c, CURLOPT_POSTFIELDS, request.data());
    curl_easy_setopt(c, CURLOPT_POSTFIELDSIZE, static_cast<long>(request.size()));
    curl_easy_setopt(c, CURLOPT_WRITEFUNCTION, take);
    curl_easy_setopt(c, CURLOPT_WRITEDATA, &answer);
    if (!server.ca_file.empty()) curl_easy_setopt(c, CURLOPT_CAINFO, server.ca_file.c_str());
    curl_easy_setopt(c, CURLOPT_TIMEOUT, server.timeout_s);
    curl_easy_setopt(c, CURLOPT_NOSIGNAL, 1L);
    curl_easy_setopt(c, CURLOPT_PROXY, "");
    const CURLcode code = curl_easy_perform(c);
    if (code != CURLE_OK)
        return not_stamped(fmt::format("The stamp server gave no time stamp: {}.", curl_easy_strerror(code)), server.url);
    long status = 0;
    curl_easy_getinfo(c, CURLINFO_RESPONSE_CODE, &status);
    if (status != 200) return not_stamped(fmt::format("The stamp server answered {}.", status), server.url);
    return answer;
}

}  // namespace wm::post
