// Devices whose entries are here, and whether anybody of ours said that they are ours.
//
// Every device signs its chain under a key that it made itself, so a bundle proves that a device wrote it and not that
// the device is ours. Ours are: this one and those it came from, those whose key our company signed, and those that
// one of ours accepted. What an unknown or a refused device says of devices counts for nothing.
#pragma once

#include <functional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "desk/desk.hpp"

namespace wm::desk {

struct DeviceView {
    std::string device;
    DeviceStanding standing = DeviceStanding::Unknown;
    std::int64_t entries = 0;
    std::string since;  ///< day of its first entry
    std::string by;     ///< who accepted or refused it last, and "" without a name
};

/// "this device", "ours", "accepted", "refused", "known to nobody".
[[nodiscard]] std::string_view in_words(DeviceStanding standing);
/// Own, of the company, or accepted.
[[nodiscard]] bool is_ours(DeviceStanding standing);

/// What the devices are held against: the device that looks, "" where none does, and its company's certificate (DER).
struct LookingDevice {
    std::string device;
    std::string root_certificate;  ///< "" without one
};
/// By their ids. `stream` as in read_stream().
[[nodiscard]] std::vector<DeviceView> devices_of(const std::vector<record::Written>& stream, const std::vector<record::Head>& heads,
                                                 const LookingDevice& looking);
[[nodiscard]] LookingDevice looking_from(const store::Journal& journal);
[[nodiscard]] Result<std::vector<DeviceView>> devices(Desk& desk);

enum class DeviceWord { Accepted, Refused };
/// A lead's. `device` is an id or the first eight or more letters of one. Refused for this device itself. Gives the id.
/// From a refused device no more bundles are taken; what is here stays, and is named.
[[nodiscard]] Result<std::string> judge_device(Desk& desk, const std::string& device, DeviceWord word);

/// A sentence for each device that wrote into the job and is not ours.
[[nodiscard]] Result<std::vector<std::string>> words_on_strangers(Desk& desk, const record::JobState& job);

/// What a device wrote into jobs in the days of a week.
struct DeviceWork {
    int entries = 0;
    std::set<std::string> jobs;
    /// Counts it in if it is of a job and of one of these days (both included, UTC).
    void add(const record::Entry& entry, const std::string& first_day, const std::string& last_day);
};
using WorkOfDevice = std::function<Result<DeviceWork>(const std::string& device)>;
[[nodiscard]] Result<DeviceWork> work_of(const store::Journal& journal, const std::string& device, const std::string& first_day,
                                         const std::string& last_day);

/// Devices that are not ours and wrote into jobs in these days, as questions of the week.
[[nodiscard]] Result<std::vector<WeekQuestionView>> device_questions(const std::vector<DeviceView>& devices, const WorkOfDevice& work);

}  // namespace wm::desk
