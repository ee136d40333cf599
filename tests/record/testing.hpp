// Builders for the tests of entries, chains and states.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "digest/hash.hpp"
#include "digest/sign.hpp"
#include "record/chain.hpp"
#include "record/clock.hpp"
#include "record/state.hpp"

namespace wm::record::testing {

using measure::Outcome;

inline Personal committed(std::string words) {
    return {digest::sha256_hex(words), std::move(words)};
}

/// A device that writes entries one after another.
class Device {
public:
    explicit Device(char name, std::int64_t wall_ms = 1'800'000'000'000)
        : key_{digest::device_key(std::string(32, name)).value()}, clock_{wall_ms, 0} {
        head_.device = digest::device_id(key_.public_key);
        write("", DeviceStarted{.device = head_.device,
                                .predecessor = {},
                                .public_key = digest::to_hex(key_.public_key),
                                .root_certificate = {},
                                .company_signature = {}});
    }

    const Written& write(std::string job, Body body) {
        clock_ = next_stamp(clock_, clock_.wall_ms + 1000);
        auto written = chained(head_, text_of(clock_), {{std::move(job), std::move(body)}}).value();
        all_.push_back(std::move(written.front()));
        head_ = {head_.device, all_.back().entry.seq, all_.back().hash};
        return all_.back();
    }

    /// As if a bundle of the other device had been taken.
    void receive(const Device& other) {
        Received received;
        for (const Head& head : heads_) received.heads.push_back(head);
        received.heads.push_back(other.head_);
        heads_ = received.heads;
        write("", std::move(received));
    }

    void set_clock(std::int64_t wall_ms) { clock_ = {wall_ms, 0}; }

    [[nodiscard]] const std::vector<Written>& all() const { return all_; }
    [[nodiscard]] const Head& head() const { return head_; }
    [[nodiscard]] const digest::DeviceKey& key() const { return key_; }

private:
    digest::DeviceKey key_;
    Stamp clock_;
    Head head_;
    std::vector<Head> heads_;
    std::vector<Written> all_;
};

inline Judged judged(Outcome outcome, std::vector<std::string> needed = {""}) {
    Judged judged;
    judged.outcome = outcome;
    judged.place_outcome = outcome;
    judged.why = std::string{measure::in_words(outcome)} + ".";
    judged.places_needed = std::move(needed);
    judged.rule = "guarded";
    return judged;
}

inline ReadingTaken reading(std::string check, std::string place, Outcome outcome,
                            std::vector<std::string> needed = {""}) {
    ReadingTaken taken;
    taken.check = std::move(check);
    taken.place = std::move(place);
    taken.text = "20 N·m";
    taken.by = "P-02";
    taken.judged = judged(outcome, std::move(needed));
    return taken;
}

inline std::vector<Written> together(const std::vector<Written>& one,
                                     const std::vector<Written>& other) {
    std::vector<Written> all = one;
    all.insert(all.end(), other.begin(), other.end());
    return all;
}

}  // namespace wm::record::testing
