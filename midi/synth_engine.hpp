#pragma once

#include "midi/plan.hpp"
#include "midi/synth.hpp"

#include <fluidsynth.h>

#include <array>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>

/// FluidSynth with a sound font in it, rendered slice by slice.
namespace landfall::midi {

struct DeleteSettings {
  void operator()(fluid_settings_t* settings) const { delete_fluid_settings(settings); }
};
struct DeleteSynth {
  void operator()(fluid_synth_t* synth) const { delete_fluid_synth(synth); }
};
using FluidSettings = std::unique_ptr<fluid_settings_t, DeleteSettings>;
using FluidSynth = std::unique_ptr<fluid_synth_t, DeleteSynth>;

/// FluidSynth's settings for ours, with its messages switched off.
FluidSettings make_settings(const SynthSettings& settings);

/// The first sound font there is: the named one, FluidSynth's default, the system's. Empty if none.
std::string find_sound_font(const SynthSettings& settings);

class SynthEngine {
public:
  static constexpr std::size_t slice_frames = 64; ///< FluidSynth's own block.

  /// Loads the sound font, which may take a second. Null, and `error` says why, if it can't.
  static std::unique_ptr<SynthEngine> make(FluidSettings settings, const SynthSettings& ours,
                                           std::string& error);

  /// Real-time safe from here on, one thread.
  void apply(const ShortMessage& message) noexcept;

  /// Renders `frames` into `left` and `right`. Before each slice, `due(frame)` is asked to apply
  /// what belongs to the slice that begins at that frame, counted from the first ever rendered.
  template <typename Due>
  void render(float* left, float* right, std::size_t frames, Due due) noexcept {
    for (std::size_t i = 0; i < frames; ++i) {
      if (read_ == slice_frames) {
        due(next_frame_);
        render_slice();
      }
      left[i] = left_[read_];
      right[i] = right_[read_];
      ++read_;
    }
  }

private:
  SynthEngine(FluidSettings settings, FluidSynth synth);
  void render_slice() noexcept;

  FluidSettings settings_; // outlives the synth
  FluidSynth synth_;
  std::array<float, slice_frames> left_{};
  std::array<float, slice_frames> right_{};
  std::size_t read_ = slice_frames;
  std::int64_t next_frame_ = 0; ///< Where the next slice begins.
};

/// `x` unchanged up to 0.8, above it bent so that it never reaches 1.
float soft_limit(float x) noexcept;

} // namespace landfall::midi
