#include "practice/fading.hpp"

#include <algorithm>
#include <set>

namespace landfall::practice {
namespace {

constexpr double dimmest = 0.08;
constexpr int most = 20; ///< Choruses counted.

std::string name_of(theory::Chord chord) {
  chord.bass.reset();
  return ascii(chord);
}

double step_of(FadingSpeed speed) {
  return speed == FadingSpeed::fast ? 0.25 : 0.1;
}

} // namespace

void Fading::learn(std::span<const ear::JudgedChange> chorus) {
  std::set<std::string> missed;
  std::set<Light> landed;
  for (const auto& change : chorus) {
    const auto name = name_of(change.chord);
    if (change.verdict == ear::Verdict::late || change.verdict == ear::Verdict::off)
      missed.insert(name);
    if (change.verdict != ear::Verdict::landed)
      continue;
    if (change.degree)
      landed.insert({name, folded(*change.degree)});
    else
      for (const auto degree : change.chord.degrees)
        landed.insert({name, folded(degree)});
  }
  std::erase_if(lights_, [&](const auto& light) { return missed.contains(light.first.chord); });
  for (const auto& light : landed)
    if (!missed.contains(light.chord))
      lights_[light] = std::min(most, lights_[light] + 1);
}

double Fading::brightness(const theory::Chord& chord, theory::Degree degree,
                          FadingSpeed speed) const {
  const auto light = lights_.find({name_of(chord), folded(degree)});
  if (speed == FadingSpeed::off || light == lights_.end())
    return 1.0;
  return std::max(dimmest, 1.0 - (light->second - 1) * step_of(speed));
}

Fading Fading::from(std::map<Light, int> lights) {
  Fading fading;
  fading.lights_ = std::move(lights);
  return fading;
}

} // namespace landfall::practice
