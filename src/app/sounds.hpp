// Four tones that are told apart by ear, and playing them.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace wm::app {

enum class Tone { Conforms, DoesNotConform, Inconclusive, Due };

/// 16-bit samples, one channel, 22,050 a second. Conforms: one rising pair; does not conform: three
/// low short ones; inconclusive: one wavering; due: four high short ones.
[[nodiscard]] std::vector<std::int16_t> samples_of(Tone tone);

/// The samples as a WAV file.
[[nodiscard]] std::string wav_of(Tone tone);

/// Rings the bell of the terminal or display. Silence is no error: not every tablet has a speaker.
void ring(Tone tone);

}  // namespace wm::app
