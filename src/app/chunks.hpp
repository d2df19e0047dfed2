#pragma once

#include "band/feel.hpp"
#include "midi/plan.hpp"
#include "practice/session.hpp"

namespace landfall::app {

/// The MIDI channel of each part, 0 to 15. The click shares the drums' channel.
int channel_of(band::Part part);

/// Where what the player plays sounds, when the program makes its sound.
inline constexpr int lead_channel = 2;

/// The same for a teacher at a second input.
inline constexpr int teacher_channel = 4;

/// Where calls sound, with the band's plan.
inline constexpr int call_channel = 3;

/// General MIDI program of the lead sound, from 0.
inline constexpr int lead_program = 27;
inline constexpr int teacher_program = 25;
inline constexpr int call_program = 26;

/// General MIDI program of the drone, from 0: one that holds, an organ.
inline constexpr int drone_program = 19;

/// The channels muted by a choice, bit n for channel n. Never the drums': they share it with
/// the click, and are muted in the plan.
std::uint16_t muted_channels(const practice::Choice& choice);

/// A plan as messages: the feel's sounds first, then its notes.
midi::Chunk chunk_of(const practice::Plan& plan, const band::Feel& feel);

/// The part of a chunk from `from` on; sounds that were chosen before are chosen there.
midi::Chunk rest_of(midi::Chunk chunk, Ticks from);

} // namespace landfall::app
