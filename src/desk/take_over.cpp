// A job goes from one person to another, on record.
#include "desk/desk.hpp"

#include <fmt/format.h>

#include "desk/permission.hpp"

namespace wm::desk {

Result<void> Desk::carry_out(const TakeOverJob& intent) {
    auto hand = in_hand(intent.job);
    if (!hand) return tl::unexpected(hand.error());
    const std::string where = "job " + intent.job;
    const std::string by = author(setup_, intent.by);
    if (by.empty())
        return refused({"It was not said who takes the job over.", where, "Name the person with --by.", ProblemKind::WrongUse});
    if (!intent.by.empty() && intent.by != by)
        return refused({fmt::format("{} cannot take a job over in the name of {}.", by, intent.by), where,
                        fmt::format("Let {} do it under the own PIN.", intent.by), ProblemKind::Refused});
    const std::string from = whose(hand->state());
    const bool is_ours_already = setup_.person ? !with_another(setup_, hand->state()) : from == by;
    if (is_ours_already)
        return refused({fmt::format("The job is with {} already.", by), where, "Nothing needs to be done.", ProblemKind::Refused});
    auto written = append(*hand, {{intent.job, record::JobTakenOver{by, from}}});
    if (!written) return tl::unexpected(written.error());
    return {};
}

}  // namespace wm::desk
