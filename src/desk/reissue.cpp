#include "desk/reissue.hpp"

#include "desk/moment.hpp"
#include "digest/hash.hpp"
#include "digest/seal.hpp"
#include "digest/time_stamp.hpp"
#include "handover/reissue.hpp"
#include "handover/seal.hpp"
#include "post/stamp_server.hpp"

namespace wm::desk {

namespace {

Result<std::string> stamped(const Setup& setup, const std::string& seal) {
    const std::string value = digest::signature_value(seal);
    const std::string nonce = setup.random(8);
    const auto answer = post::ask_for_stamp({.url = setup.stamp_server, .ca_file = setup.stamp_ca, .timeout_s = 10},
                                            digest::stamp_request(value, nonce));
    if (!answer) return tl::unexpected(answer.error());
    const auto stamp = digest::stamp_from(*answer, value, nonce);
    if (!stamp) return tl::unexpected(stamp.error());
    return digest::with_time_stamp(seal, *stamp);
}

}  // namespace

handover::Moment printed_moment(Moment moment) {
    const std::string text = text_of(moment);
    const auto number = [&](std::size_t at, std::size_t count) { return std::stoi(text.substr(at, count)); };
    return {.year = number(0, 4), .month = number(5, 2), .day = number(8, 2), .hour = number(11, 2),
            .minute = number(14, 2), .second = number(17, 2), .zone_minutes = moment.zone_minutes};
}

Result<std::string> sealed_with_stamp(const Setup& setup, const digest::CompanyKeys& company, std::string_view covered,
                                      std::string& unstamped) {
    unstamped.clear();
    auto seal = digest::sign_detached(covered, company);
    if (!seal || setup.stamp_server.empty()) return seal;
    auto with_stamp = stamped(setup, *seal);
    if (with_stamp) return with_stamp;
    unstamped = with_stamp.error().what;
    return seal;
}

Result<ReissuedView> reissue_report(Desk& desk, const std::string& job) {
    const auto first = desk.sealed_report(job);
    if (!first) return tl::unexpected(first.error());
    const auto& company = desk.journal().keys().company();
    if (!company)
        return refused({"This data folder has no company key to seal a report with.", desk.setup().data.string(),
                        "Start with a folder that was made by the program.", ProblemKind::NotStored});
    ReissuedView view;
    view.first = digest::sha256_hex(*first);
    const Moment now = desk.setup().now();
    auto again = handover::reissued(*first, {.job = job,
                                             .company = desk.setup().company,
                                             .first = view.first,
                                             .date = day_of(now),
                                             .written = printed_moment(now),
                                             .fonts = desk.setup().fonts});
    if (!again) return tl::unexpected(again.error());
    auto sealed = handover::seal_report(std::move(*again), [&](std::string_view covered) {
        return sealed_with_stamp(desk.setup(), *company, covered, view.unstamped);
    });
    if (!sealed) return tl::unexpected(sealed.error());
    view.report = std::move(*sealed);
    view.sha256 = digest::sha256_hex(view.report);
    return view;
}

}  // namespace wm::desk
