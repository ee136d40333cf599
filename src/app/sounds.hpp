// Four tones that are told apart by ear, and a thread that plays them.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <thread>
#include <vector>

#include "app/queue.hpp"
#include "screens/world.hpp"

namespace wm::app {

using screens::Tone;

/// Samples a second of each tone; one channel.
inline constexpr int tone_rate = 22050;

/// 16-bit samples. Conforms: one rising pair; does not conform: three low short ones; inconclusive: one wavering; due: four
/// high short ones.
[[nodiscard]] std::vector<std::int16_t> samples_of(Tone tone);

/// The samples as a WAV file.
[[nodiscard]] std::string wav_of(Tone tone);

/// Plays samples to their end on the sound device that is set as the usual one. False where none answers: not every tablet
/// has a speaker, and silence is no error.
[[nodiscard]] bool play_on_device(const std::vector<std::int16_t>& samples);

/// Rings the bell of the terminal, for a device without sound.
void ring_bell();

/// Plays one tone after the other on a thread of its own, so that no screen waits for a sound device. Of more than two that
/// wait the older ones are left out: a tone that comes late tells something false.
class Speaker {
public:
    using Play = std::function<void(Tone)>;
    explicit Speaker(Play play);
    Speaker(const Speaker&) = delete;
    Speaker& operator=(const Speaker&) = delete;
    /// Waits for the tone that is being played, not for those behind it.
    ~Speaker();

    void ring(Tone tone);

private:
    Play play_;
    Queue<Tone> tones_;
    std::thread thread_;
};

/// The device, and the bell where there is none.
void play_tone(Tone tone);

}  // namespace wm::app
