#include "band/walk.hpp"

#include "time/random.hpp"

#include <algorithm>
#include <cstdlib>
#include <limits>

namespace landfall::band {
namespace {

constexpr int lowest = lowest_bass.number;
constexpr int pitches = highest_bass.number - lowest + 1;
constexpr int impossible = std::numeric_limits<int>::max() / 2;

/// By the size of the interval in half steps, up to the octave.
constexpr std::array<int, 13> interval_cost{16, 1, 0, 2, 3, 4, 8, 5, 9, 10, 14, 16, 9};

int move_cost(int from, int to) {
  const auto size = static_cast<std::size_t>(std::abs(to - from));
  return size < interval_cost.size() ? interval_cost[size] : impossible;
}

int register_cost(int pitch) {
  return std::max(0, 32 - pitch) + std::max(0, pitch - 48);
}

/// Of a note in mid-walk; every second one from the start is on a strong beat.
int tone_cost(Standing standing, int step) {
  if (standing == Standing::outside)
    return impossible;
  return standing == Standing::chord ? 0 : step % 2 == 0 ? 5 : 2;
}

/// Of the step into the target.
int approach_cost(int from, int to, Standing standing) {
  const int distance = from - to;
  if (distance == 1 || distance == -1)
    return standing == Standing::outside ? 2 : 0;
  if (standing == Standing::outside)
    return impossible;
  if (distance == 2 || distance == -2)
    return 1;
  return distance == 7 || distance == -5 ? 4 : impossible;
}

/// Cost of the best way to a pitch, and where it came from.
struct State {
  int cost = impossible;
  int before = 0;
  bool rose_before = false;
};

/// One note of the walk: the best ways to each pitch, by whether they rise to it, and which pitches
/// can be reached at all.
struct Column {
  std::array<std::array<State, 2>, static_cast<std::size_t>(pitches)> states;
  std::vector<int> reached;
};

class Walker {
public:
  explicit Walker(const Walk& walk) : walk_(walk) {}

  std::vector<theory::MidiNote> way() {
    columns_.resize(static_cast<std::size_t>(walk_.steps) + 2);
    const int start = walk_.from.number - lowest;
    columns_[0].states[static_cast<std::size_t>(start)] = {{{0, start, false}, {0, start, false}}};
    columns_[0].reached = {start};
    for (int step = 1; step <= walk_.steps; ++step) {
      const auto draw = drawn({walk_.draw, static_cast<std::uint64_t>(step)});
      for (int to = 0; to < pitches; ++to)
        if (const int cost = note_cost(step, to); cost < impossible)
          reach(step, to, cost + static_cast<int>(mixed(draw + static_cast<unsigned>(to)) % 5),
                false);
    }
    for (const auto target : walk_.targets)
      reach(walk_.steps + 1, target.number - lowest, register_cost(target.number), true);
    return traced();
  }

private:
  Standing standing(int pitch) const {
    return walk_.standing[static_cast<std::size_t>((pitch + lowest) % 12)];
  }

  /// Of a note for its own sake. The last one may be anything: its approach is what counts.
  int note_cost(int step, int to) const {
    const int tone = step == walk_.steps ? 0 : tone_cost(standing(to), step);
    return tone == impossible ? tone : register_cost(to + lowest) + tone;
  }

  void reach(int step, int to, int cost, bool target) {
    const auto& before = columns_[static_cast<std::size_t>(step - 1)];
    auto& column = columns_[static_cast<std::size_t>(step)];
    auto& here = column.states[static_cast<std::size_t>(to)];
    for (const int from : before.reached) {
      const int move =
          target && walk_.steps > 0 ? approach_cost(from, to, standing(from)) : move_cost(from, to);
      if (move == impossible)
        continue;
      const bool rises = to > from;
      for (const bool rose : {false, true}) {
        const auto& state = before.states[static_cast<std::size_t>(from)][rose ? 1 : 0];
        const int turn = step > 1 && rises != rose ? 2 : 0;
        if (state.cost < impossible && state.cost + cost + move + turn < here[rises ? 1 : 0].cost)
          here[rises ? 1 : 0] = {state.cost + cost + move + turn, from, rose};
      }
    }
    if (std::min(here[0].cost, here[1].cost) < impossible)
      column.reached.push_back(to);
  }

  std::vector<theory::MidiNote> traced() const {
    int pitch = 0;
    bool rose = false;
    int least = impossible;
    for (const auto target : walk_.targets)
      for (const bool way : {false, true}) {
        const int at = target.number - lowest;
        const int cost = columns_.back().states[static_cast<std::size_t>(at)][way ? 1 : 0].cost;
        if (cost < least)
          least = cost, pitch = at, rose = way;
      }
    std::vector<theory::MidiNote> result(static_cast<std::size_t>(walk_.steps) + 1);
    if (least == impossible) {
      std::fill(result.begin(), result.end(), walk_.targets.front());
      return result;
    }
    for (auto column = columns_.size() - 1; column > 0; --column) {
      result[column - 1] = {pitch + lowest};
      const auto& state = columns_[column].states[static_cast<std::size_t>(pitch)][rose ? 1 : 0];
      pitch = state.before;
      rose = state.rose_before;
    }
    return result;
  }

  const Walk& walk_;
  std::vector<Column> columns_;
};

/// The degree's other quality: a minor third for a major one, a perfect fifth for an altered one.
std::optional<int> contradicted(theory::Degree degree) {
  const int steps = theory::half_steps(degree);
  if (degree.number == 3)
    return degree.alteration == 0 ? 3 : 4;
  if (degree.number == 5 && degree.alteration != 0)
    return 7;
  if (degree.number == 7)
    return steps == 11 ? 10 : 11;
  return std::nullopt;
}

} // namespace

std::array<Standing, 12> standings(const theory::Chord& chord, theory::Key key) {
  std::array<Standing, 12> result{};
  for (const auto degree : theory::degrees(key))
    result[static_cast<std::size_t>((theory::pitch_class(key.tonic) + theory::pitch_class(degree)) %
                                    12)] = Standing::scale;
  const int root = theory::pitch_class(chord.root);
  for (const auto degree : chord.degrees)
    if (const auto other = contradicted(degree))
      result[static_cast<std::size_t>((root + *other) % 12)] = Standing::outside;
  for (const auto degree : chord.degrees)
    result[static_cast<std::size_t>((root + theory::pitch_class(degree)) % 12)] = Standing::chord;
  return result;
}

std::vector<theory::MidiNote> walked(const Walk& walk) {
  return Walker(walk).way();
}

} // namespace landfall::band
