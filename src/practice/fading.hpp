#pragma once

#include "ear/verdict.hpp"

#include <map>
#include <span>
#include <string>

namespace landfall::practice {

/// How fast the lights of landing notes dim as the player comes to know them.
enum class FadingSpeed : std::uint8_t { off, slow, fast };

/// Lights that dim with reliable landing, so that the ear takes over from the eye. One for each
/// landing note of each chord, wherever it lies on the board. A value.
class Fading {
public:
  /// A chord's symbol without its bass, and a degree of it.
  struct Light {
    std::string chord;
    theory::Degree degree;

    auto operator<=>(const Light&) const = default;
  };

  /// After a chorus: a degree that was landed on counts one chorus more, unless the chord was
  /// missed in it (late or off), which lights all of the chord again. The player's own word names
  /// no degree, and counts for all of the chord's. Rests say nothing.
  void learn(std::span<const ear::JudgedChange> chorus);

  /// 1 lit to 0.08: the first landing changes nothing, each further chorus dims by a tenth (slow)
  /// or a quarter (fast).
  double brightness(const theory::Chord& chord, theory::Degree degree, FadingSpeed speed) const;

  /// Choruses in a row in which each was landed on; what is not there has none.
  const std::map<Light, int>& lights() const { return lights_; }
  static Fading from(std::map<Light, int> lights);

  bool operator==(const Fading&) const = default;

private:
  std::map<Light, int> lights_;
};

} // namespace landfall::practice
