// The outbox as it is kept between two looks, so that looking at it folds only the jobs that changed.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "desk/view.hpp"

namespace wm::desk {

/// The messages of one job, the oldest first; of most jobs one or none.
struct KeptMessages {
    std::string last_hash;  ///< of the entry they were seen after; another one makes them stale
    std::vector<MessageView> messages;
};

/// By job number.
using KeptOutbox = std::map<std::string, KeptMessages, std::less<>>;

/// Changes when a message is shown otherwise, so that nothing of an older program is believed.
inline constexpr std::string_view outbox_made_from = "messages 1";

/// One canonical document; nullopt where a text stands in it that no such document takes.
[[nodiscard]] std::optional<std::string> text_of(const KeptOutbox& outbox);
/// nullopt unless the whole of it is such a text.
[[nodiscard]] std::optional<KeptOutbox> read_outbox(std::string_view text);

}  // namespace wm::desk
