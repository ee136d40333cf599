#include "screens/lock.hpp"

#include <imgui.h>

#include <algorithm>

namespace wm::screens {

Hands hands_now() {
    const ImGuiIO& io = ImGui::GetIO();
    Hands hands{io.MousePos.x, io.MousePos.y, io.MouseWheel, io.MouseDown[0], 0, io.InputQueueCharacters.Size};
    for (const bool down : io.KeysDown) hands.keys += down ? 1 : 0;
    return hands;
}

bool is_locked(const World& world, const LockDraft& draft) {
    return !world.lock.people.empty() && (world.lock.person.empty() || draft.shut);
}

void shut(const World& world, LockDraft& draft, Requests& requests) {
    if (is_locked(world, draft) || world.lock.people.empty()) return;
    draft.shut = true;
    draft.name = world.lock.person;
    draft.pin.clear();
    draft.board = {};
    requests.emplace_back(LockWindow{});
}

void look_after_lock(const World& world, LockDraft& draft, const Hands& hands, Requests& requests) {
    if (world.lock.unlocked != draft.unlocked_seen) {
        draft.unlocked_seen = world.lock.unlocked;
        draft.shut = false;
        draft.board = {};
        draft.touched_s = world.moment.monotonic_s;
    }
    if (world.lock.answers != draft.answers_seen) {
        draft.answers_seen = world.lock.answers;
        draft.sent = false;
        draft.pin.clear();
    }
    if (draft.name.empty() && world.lock.people.size() == 1) draft.name = world.lock.people.front().name;
    if (const auto left = seconds_to_lock(world, draft); left && *left <= 0.0 && !is_locked(world, draft)) shut(world, draft, requests);
    if (hands == draft.hands && draft.touched_s) return;
    draft.hands = hands;
    draft.touched_s = world.moment.monotonic_s;
}

std::optional<double> seconds_to_lock(const World& world, const LockDraft& draft) {
    if (is_locked(world, draft)) {
        const auto wait = seconds_to_wait(world, draft.name);
        return wait > 0 ? std::optional{1.0} : std::nullopt;
    }
    if (world.lock.people.empty() || world.lock_minutes <= 0 || !draft.touched_s) return std::nullopt;
    return std::max(0.0, *draft.touched_s + world.lock_minutes * 60.0 - world.moment.monotonic_s);
}

const PersonLock* person_named(const LockView& lock, std::string_view name) {
    const auto found =
        std::find_if(lock.people.begin(), lock.people.end(), [&](const PersonLock& person) { return person.name == name; });
    return found == lock.people.end() ? nullptr : &*found;
}

std::int64_t seconds_to_wait(const World& world, std::string_view name) {
    const auto* person = person_named(world.lock, name);
    return person == nullptr ? 0 : std::max<std::int64_t>(0, person->not_before_s - world.moment.epoch_s);
}

}  // namespace wm::screens
