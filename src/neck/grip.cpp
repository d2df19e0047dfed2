#include "neck/grip.hpp"

#include "neck/grip_cost.hpp"

#include <algorithm>

namespace landfall::neck {
namespace {

constexpr int most_sounding = 6;
constexpr int most_inner_mutes = 2;

struct Candidate {
  FretRow row;
  double cost = 0.0;
  Fingering fingering{};
};

/// Whether a silent string lies between sounding ones.
bool has_inner_mute(const FretRow& row) {
  bool sounding = false, gap = false;
  for (const auto fret : row.frets) {
    if (fret != muted && gap)
      return true;
    gap = sounding && fret == muted;
    sounding = sounding || fret != muted;
  }
  return false;
}

/// Whether `part` is `whole` with strings left out that cost the hand nothing: the same fingers in
/// the same places; or two outer strings fewer for no fewer fingers.
bool leaves_out_for_nothing(const Candidate& part, const Candidate& whole) {
  if (part.fingering.fingers < whole.fingering.fingers)
    return false;
  int left_out = 0;
  bool same_hand = part.fingering.fingers == whole.fingering.fingers &&
                   part.fingering.barre_count == whole.fingering.barre_count;
  for (std::size_t string = 0; string < part.row.frets.size(); ++string) {
    const bool silent = part.row.frets[string] == muted;
    if (!silent && part.row.frets[string] != whole.row.frets[string])
      return false;
    left_out += silent && whole.row.frets[string] != muted ? 1 : 0;
    same_hand =
        same_hand && (silent || part.fingering.finger[string] == whole.fingering.finger[string]);
  }
  return (left_out > 1 && !has_inner_mute(part.row)) || (left_out > 0 && same_hand);
}

/// What costs more is not worth showing beside the best.
double dearest(const std::vector<Candidate>& all) {
  constexpr double always_shown = 8.0, above_best = 3.0;
  return all.empty() ? 0.0 : std::max(always_shown, all.front().cost + above_best);
}

/// The best `most`, without those that only leave out strings of another. A voicing in which no
/// tone is doubled is one of its own.
std::vector<Candidate> distinct(const std::vector<Candidate>& all, const GripJudge& judge,
                                std::size_t most) {
  std::vector<Candidate> kept;
  for (const auto& candidate : all) {
    const auto fuller = [&](const Candidate& other) {
      return leaves_out_for_nothing(candidate, other);
    };
    if (kept.size() < most && candidate.cost <= dearest(all) &&
        (judge.is_voicing(candidate.row) || std::none_of(all.begin(), all.end(), fuller)))
      kept.push_back(candidate);
  }
  return kept;
}

/// Depth first over the strings, within one window of frets at a time.
class GripSearch {
public:
  GripSearch(const Fretboard& board, const theory::Chord& chord, const GripRequest& request)
      : board_(board), judge_(board, chord), request_(request),
        most_(4 * std::min<std::size_t>(request.most, 256)) {}

  std::vector<Candidate> find() {
    if (request_.most == 0)
      return {};
    const auto [first, last] = whole();
    const int highest_window = request_.hand ? last : std::min(last, 12); // Octaves up add nothing.
    for (lowest_ = std::max(1, first); lowest_ <= highest_window; ++lowest_) {
      highest_ = std::min(lowest_ + 3, last);
      descend(0, State{});
    }
    return distinct(best_, judge_, request_.most);
  }

private:
  struct State {
    int sounding = 0, inner = 0, gap = 0, at_lowest = 0, fretted = 0;
  };

  FretRange whole() const {
    if (!request_.hand)
      return {0, board_.frets};
    const auto under = board_.under(*request_.hand);
    return {under.below.last >= under.below.first ? under.below.first : under.hand.first,
            std::max(under.hand.last, under.above.last)};
  }

  bool open_allowed() const { return !request_.movable && whole().first == 0; }

  void descend(int string, State state) {
    if (string == board_.count)
      return leaf(state);
    if (state.sounding < most_sounding && state.inner + state.gap <= most_inner_mutes) {
      if (open_allowed())
        sound(string, 0, state);
      for (int fret = lowest_; fret <= highest_; ++fret)
        sound(string, fret, state);
    }
    auto silent = state;
    silent.gap += state.sounding > 0 ? 1 : 0;
    row_[string] = muted;
    descend(string + 1, silent);
  }

  void sound(int string, int fret, State state) {
    const auto pitch = board_.pitch(string, fret);
    if (!pitch || !judge_.allows(*pitch))
      return;
    ++state.sounding;
    state.inner += state.gap;
    state.gap = 0;
    state.at_lowest += fret == lowest_ ? 1 : 0;
    state.fretted += fret > 0 ? 1 : 0;
    row_[string] = static_cast<std::int8_t>(fret);
    descend(string + 1, state);
    row_[string] = muted;
  }

  /// Each row is met in the window that begins at its lowest fret; one of open strings alone in the
  /// first window.
  void leaf(const State& state) {
    const bool all_open = state.fretted == 0 && lowest_ == std::max(1, whole().first);
    if ((state.at_lowest == 0 && !all_open) || !judge_.complete(row_))
      return;
    const double sound = judge_.cost(row_);
    if (full() && sound >= best_.back().cost)
      return;
    if (const auto fingering = fingered(row_, board_.count))
      keep({row_, sound + fingering->strain, *fingering});
  }

  bool full() const { return best_.size() == most_; }

  void keep(const Candidate& found) {
    if (full() && found.cost >= best_.back().cost)
      return;
    if (full())
      best_.pop_back();
    const auto place =
        std::upper_bound(best_.begin(), best_.end(), found,
                         [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; });
    best_.insert(place, found);
  }

  const Fretboard& board_;
  GripJudge judge_;
  const GripRequest& request_;
  std::size_t most_; ///< Kept while searching.
  int lowest_ = 1, highest_ = 4;
  FretRow row_;
  std::vector<Candidate> best_;
};

/// What a person would call the grip.
std::string name_of(const Fretboard& board, const theory::Chord& chord, const FretRow& row) {
  const ChordTones tones(chord);
  if (board.shape_offset)
    for (const auto& form : shape_forms())
      for (int nut = lowest_nut(board, form, tones.root); nut <= board.frets; nut += 12)
        if (shape_grip(board, {form.name, nut}, tones) == row)
          return ascii(chord) + " as " + (form.name == 'A' || form.name == 'E' ? "an " : "a ") +
                 form.name + " shape";
  int lowest = -1;
  for (int string = 0; string < board.count; ++string)
    if (row[string] != muted &&
        (lowest < 0 || *board.pitch(string, row[string]) < *board.pitch(lowest, row[lowest])))
      lowest = string;
  const bool root = lowest >= 0 && *board.pitch(lowest, row[lowest]) % 12 == tones.root;
  return ascii(chord) + (root ? ", root on string " : ", bass on string ") +
         std::to_string(board.number(lowest));
}

} // namespace

Grip grip_of(const Fretboard& board, const FretRow& row, std::string name) {
  const auto fingering = fingered(row, board.count);
  Grip grip;
  grip.name = std::move(name);
  for (int string = 0; string < board.count; ++string) {
    grip.frets.push_back(row[string] == muted ? std::nullopt : std::optional<int>(row[string]));
    grip.finger.push_back(fingering ? fingering->finger[static_cast<std::size_t>(string)] : 0);
  }
  if (fingering) {
    grip.fingers = fingering->fingers;
    grip.cost = fingering->strain;
    grip.barres.assign(fingering->barres.begin(),
                       fingering->barres.begin() + fingering->barre_count);
  }
  return grip;
}

std::vector<Grip> grips(const Fretboard& board, const theory::Chord& chord,
                        const GripRequest& request) {
  std::vector<Grip> found;
  for (const auto& candidate : GripSearch(board, chord, request).find()) {
    found.push_back(grip_of(board, candidate.row, name_of(board, chord, candidate.row)));
    found.back().cost = candidate.cost;
  }
  return found;
}

namespace {

/// The string of the form's lowest root, counted from the low end of the board.
int root_string(const Fretboard& board, const ShapeForm& form) {
  const auto root = std::find(form.degree.begin(), form.degree.end(), 1);
  return board.count - 6 + static_cast<int>(root - form.degree.begin());
}

/// Where the shape's own tones leave no grip: the best around it with the same root in the bass.
std::optional<FretRow> grip_around(const Fretboard& board, ChordShape shape,
                                   const theory::Chord& chord) {
  const int root = root_string(board, *find_shape(shape.name));
  const int sounding = *board.pitch(root, shape.nut);
  for (const auto& candidate :
       GripSearch(board, chord, {shape.nut > 0, std::max(1, shape.nut), 40}).find()) {
    int lowest = 0;
    while (candidate.row[lowest] == muted)
      ++lowest;
    if (lowest == root && std::abs(*board.pitch(root, candidate.row[root]) - sounding) < 6)
      return candidate.row;
  }
  return std::nullopt;
}

} // namespace

std::vector<Grip> seventh_grips(const Fretboard& board, ChordShape shape, theory::Note root) {
  std::vector<Grip> found;
  for (const auto* suffix : {"7", "maj7", "m7", "m7b5", "dim7", "mMaj7"}) {
    auto chord = theory::parse_chord_suffix(suffix).value();
    chord.root = root;
    auto row = std::optional(shape_grip(board, shape, ChordTones(chord)));
    const GripJudge judge(board, chord);
    const bool complete = judge.complete(*row);
    if (!complete || has_inner_mute(*row)) {
      const auto around = grip_around(board, shape, chord);
      if (!complete || (around && judge.cost(*around) < judge.cost(*row)))
        row = around;
    }
    if (row)
      found.push_back(grip_of(board, *row,
                              ascii(chord) + " as " +
                                  (shape.name == 'A' || shape.name == 'E' ? "an " : "a ") +
                                  shape.name + " shape"));
  }
  return found;
}

} // namespace landfall::neck
