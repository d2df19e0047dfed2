#include "trade/call_line.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>

namespace landfall::trade {
namespace {

constexpr std::size_t beam = 18; ///< Ways that are kept alive from note to note.

/// A way up to one note.
struct Way {
  double cost = 0.0;
  int from = -1; ///< Index among the ways up to the note before.
  LineNote note;
};

using Layer = std::vector<Way>;

/// The next landing's pitch and how many notes away it is.
struct Ahead {
  std::optional<int> midi;
  int notes = 0;
};

class LineDrawer {
public:
  LineDrawer(const LineRequest& request, const LineShape& shape, std::vector<LineNote>& line,
             Chance& chance)
      : request_(request), shape_(shape), line_(line), chance_(chance), layers_(line.size()) {
    sequence_ = static_cast<int>(chance.between(-2.0, 3.0));
  }

  void draw() {
    for (std::size_t i = 0; i < line_.size(); ++i)
      extend(i);
    trace();
  }

private:
  const Ground& ground(std::size_t index) const {
    return request_.grounds[static_cast<std::size_t>(request_.onsets[index].chord)];
  }

  std::vector<LineNote> choices(std::size_t index) const {
    if (line_[index].spot != nullptr)
      return {line_[index]};
    std::vector<LineNote> result;
    for (const auto& spot : ground(index).notes)
      if (spot.midi.number >= shape_.low && spot.midi.number <= shape_.high)
        result.push_back({&spot});
    if (result.empty())
      for (const auto& spot : ground(index).notes)
        result.push_back({&spot});
    return result;
  }

  Ahead ahead(std::size_t index) const {
    for (auto i = index + 1; i < line_.size(); ++i)
      if (line_[i].spot != nullptr)
        return {line_[i].spot->midi.number, static_cast<int>(i - index)};
    return {};
  }

  void extend(std::size_t index) {
    auto notes = choices(index);
    if (notes.empty())
      notes.push_back({});
    const auto before = index > 0 ? layers_[index - 1] : Layer{Way{}};
    Layer layer;
    layer.reserve(notes.size() * before.size());
    for (const auto& note : notes) {
      const double own = own_cost(index, note);
      for (std::size_t k = 0; k < before.size(); ++k)
        layer.push_back({before[k].cost + own + step_cost(index, static_cast<int>(k), note),
                         static_cast<int>(k), note});
    }
    const auto kept = std::min(beam, layer.size());
    std::partial_sort(layer.begin(), layer.begin() + static_cast<std::ptrdiff_t>(kept), layer.end(),
                      [](const Way& a, const Way& b) { return a.cost < b.cost; });
    layer.resize(kept);
    layers_[index] = std::move(layer);
  }

  double own_cost(std::size_t index, const LineNote& note) {
    if (note.spot == nullptr)
      return 0.0;
    const auto& onset = request_.onsets[index];
    const auto first = request_.onsets.front().start, last = request_.onsets.back().start;
    const double part = last > first ? static_cast<double>((onset.start - first).count) /
                                           static_cast<double>((last - first).count)
                                     : 1.0;
    const double aim = shape_.low + (shape_.high - shape_.low) * height(shape_.contour, part);
    double cost = 0.2 * std::abs(note.spot->midi.number - aim) + chance_.between(0.0, 1.5);
    if (note.role == PhraseRole::set && !note.spot->tone) {
      cost += onset.weight >= 2 ? 1.1 : onset.weight == 1 ? 0.6 : 0.0;
      cost += onset.length >= quarter ? 1.2 : 0.0;
      cost += onset.length >= quarter / 2 && rubs(index, *note.spot) ? 1.2 : 0.0;
    }
    if (const auto next = ahead(index); next.midi) {
      const int far = std::abs(note.spot->midi.number - *next.midi);
      cost += std::max(0, far - 3 * next.notes - 1) * 0.5;
    }
    return cost;
  }

  /// A half step above a chord tone.
  bool rubs(std::size_t index, const Spot& spot) const {
    const auto& notes = ground(index).notes;
    return std::any_of(notes.begin(), notes.end(), [&](const Spot& other) {
      return other.tone && (spot.midi - other.midi + 120) % 12 == 1;
    });
  }

  /// The note `back` notes before the one after way `k` of `index - 1`.
  const LineNote* earlier(std::size_t index, int k, std::size_t back) const {
    if (back > index)
      return nullptr;
    auto layer = index - 1;
    for (; back > 1; --back, --layer)
      k = layers_[layer][static_cast<std::size_t>(k)].from;
    const auto& way = layers_[layer][static_cast<std::size_t>(k)];
    return way.note.spot == nullptr ? nullptr : &way.note;
  }

  double step_cost(std::size_t index, int k, const LineNote& note) {
    if (index == 0 || note.spot == nullptr)
      return 0.0;
    const auto* previous = earlier(index, k, 1);
    if (previous == nullptr)
      return 0.0;
    const auto gap = request_.onsets[index].start - request_.onsets[index - 1].start;
    double cost = interval_cost(*previous->spot, *note.spot, index) +
                  0.8 * effort(*previous->spot, *note.spot);
    if (duration_of(gap, request_.tempo) < quickest(*previous->spot, *note.spot))
      cost += 40.0;
    if (const auto* second = earlier(index, k, 2))
      cost += turn_cost(*second->spot, *previous->spot, *note.spot, index, k);
    return cost + motif_cost(index, k, note);
  }

  double interval_cost(const Spot& from, const Spot& to, std::size_t index) const {
    // by half steps: repeats are few, steps and thirds are many, wide and sharp ones rare
    static constexpr std::array<double, 13> costs{1.9, 0.2, 0.0, 0.3, 0.6, 1.0, 2.6,
                                                  1.4, 2.3, 2.2, 3.2, 5.0, 2.2};
    const int size = std::abs(to.midi - from.midi);
    double cost = size <= 12 ? costs[static_cast<std::size_t>(size)] : 6.0;
    if (size >= 5)
      cost *= 1.9 - request_.density->leaps / 50.0 * 0.6;
    if (size > request_.density->largest_leap)
      cost += 7.0 + size - request_.density->largest_leap;
    // across a silence a leap is a new beginning, and costs little
    const auto& before = request_.onsets[index - 1];
    if (request_.onsets[index].start - before.start - before.length >= quarter / 2 && size >= 3)
      cost *= 0.6;
    return cost;
  }

  /// After a leap the line turns back by step; it does not run on for ever, nor rock.
  double turn_cost(const Spot& a, const Spot& b, const Spot& c, std::size_t index, int k) const {
    const int first = b.midi - a.midi, second = c.midi - b.midi;
    double cost = 0.0;
    if (std::abs(first) >= 5) {
      if (first * second > 0)
        cost += std::abs(second) >= 3 ? 2.4 : 0.9;
      else if (second != 0 && std::abs(second) <= 3)
        cost -= 0.5;
    }
    if (first == 0 && second == 0)
      cost += 2.5;
    if (first != 0 && c.midi == a.midi) {
      cost += 0.7;
      const auto* third = earlier(index, k, 3);
      if (third != nullptr && third->spot->midi == b.midi)
        cost += 1.8;
    }
    return cost;
  }

  /// Where a motif comes again, its intervals do too, as wide as the set lets them be; or its very
  /// notes where they still fit.
  double motif_cost(std::size_t index, int k, const LineNote& note) const {
    const int twin = request_.onsets[index].twin;
    if (twin < 0 || note.role != PhraseRole::set)
      return 0.0;
    const auto* original = earlier(index, k, index - static_cast<std::size_t>(twin));
    if (original == nullptr)
      return 0.0;
    const bool starts = twin == 0 || request_.onsets[index - 1].twin != twin - 1;
    if (starts) // the sequence's first note
      return 0.25 * std::abs(note.spot->midi - original->spot->midi - 2 * sequence_);
    const auto* before = earlier(index, k, 1);
    const auto* original_before = earlier(index, k, index - static_cast<std::size_t>(twin) + 1);
    if (before == nullptr || original_before == nullptr)
      return 0.0;
    const int was = original->spot->midi - original_before->spot->midi;
    const int is = note.spot->midi - before->spot->midi;
    return std::min(0.7 * std::abs(was - is), 3.0) + (was * is < 0 ? 1.0 : 0.0);
  }

  void trace() {
    if (line_.empty())
      return;
    int k = 0;
    for (auto i = line_.size(); i-- > 0;) {
      const auto& way = layers_[i][static_cast<std::size_t>(k)];
      line_[i] = way.note;
      k = way.from;
    }
  }

  const LineRequest& request_;
  const LineShape& shape_;
  std::vector<LineNote>& line_;
  Chance& chance_;
  std::vector<Layer> layers_;
  int sequence_ = 0; ///< How far repeats of the motif are moved, in steps.
};

} // namespace

void draw_line(const LineRequest& request, const LineShape& shape, std::vector<LineNote>& line,
               Chance& chance) {
  LineDrawer(request, shape, line, chance).draw();
}

} // namespace landfall::trade
