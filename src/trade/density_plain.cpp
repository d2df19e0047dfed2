#include "trade/density.hpp"

#include <array>
#include <cassert>

namespace landfall::trade {
namespace {

constexpr std::array<std::string_view, 3> texts{R"(
name: sparse
about: Few notes and much space: hear the shape and where it lands.
notes: 6
shortest: eighth
fastest: 4
length: 55
syncopation: 10
pick-ups: 5
range: 9
largest leap: 5
leaps: 15
approach notes: 0
enclosures: 0
variation: 20
)",
                                                R"(
name: medium
about: Phrases as a singer would sing them, now and then a note from outside.
notes: 10
shortest: sixteenth
fastest: 6
length: 75
syncopation: 25
pick-ups: 20
range: 14
largest leap: 8
leaps: 30
approach notes: 20
enclosures: 8
variation: 40
)",
                                                R"(
name: dense
about: Long lines that lead into every change by half steps and enclosures.
notes: 16
shortest: sixteenth
fastest: 9
length: 95
syncopation: 40
pick-ups: 35
range: 20
largest leap: 12
leaps: 45
approach notes: 45
enclosures: 30
variation: 55
)"};

} // namespace

const std::vector<Density>& plain_densities() {
  static const auto densities = [] {
    std::vector<Density> result;
    for (const auto text : texts) {
      auto density = parse_density(text);
      assert(density);
      result.push_back(std::move(*density));
    }
    return result;
  }();
  return densities;
}

} // namespace landfall::trade
