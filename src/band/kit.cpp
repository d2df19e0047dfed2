#include "band/kit.hpp"

#include <algorithm>
#include <array>

namespace landfall::band {
namespace {

constexpr std::array<Drum, 37> drums{{
    {"kick", {36}, 1, false},
    {"side stick", {37}, 1, false},
    {"snare", {38}, 1, false},
    {"clap", {39}, 1, false},
    {"low floor tom", {41}, 2, false},
    {"closed hat", {42}, 1, true},
    {"floor tom", {43}, 2, false},
    {"pedal hat", {44}, 1, true},
    {"low tom", {45}, 2, false},
    {"open hat", {46}, 2, true},
    {"mid tom", {47}, 2, false},
    {"high mid tom", {48}, 2, false},
    {"crash", {49}, 8, false},
    {"high tom", {50}, 2, false},
    {"ride", {51}, 2, true},
    {"china", {52}, 8, false},
    {"ride bell", {53}, 2, true},
    {"tambourine", {54}, 1, true},
    {"splash", {55}, 6, false},
    {"cowbell", {56}, 1, false},
    {"second crash", {57}, 8, false},
    {"second ride", {59}, 2, true},
    {"high bongo", {60}, 1, false},
    {"low bongo", {61}, 1, false},
    {"muted conga", {62}, 1, false},
    {"high conga", {63}, 1, false},
    {"low conga", {64}, 1, false},
    {"high timbale", {65}, 1, false},
    {"low timbale", {66}, 1, false},
    {"cabasa", {69}, 1, true},
    {"maracas", {70}, 1, true},
    {"short guiro", {73}, 1, false},
    {"claves", {75}, 1, false},
    {"high wood block", {76}, 1, false},
    {"low wood block", {77}, 1, false},
    {"muted triangle", {80}, 1, true},
    {"open triangle", {81}, 4, true},
}};

const Drum* found(auto matches) {
  const auto at = std::find_if(drums.begin(), drums.end(), matches);
  return at == drums.end() ? nullptr : &*at;
}

} // namespace

std::span<const Drum> all_drums() {
  return drums;
}

const Drum* find_drum(std::string_view name) {
  return found([&](const Drum& drum) { return drum.name == name; });
}

const Drum* find_drum(theory::MidiNote note) {
  return found([&](const Drum& drum) { return drum.note == note; });
}

} // namespace landfall::band
