#include "song/bar_reader.hpp"

#include "song/symbol.hpp"

namespace landfall::song {

namespace {

constexpr std::size_t most_chords = 64;
constexpr std::size_t most_beats = 64;

/// A chord, N.C. or a slash, before it has a place.
struct Entry {
  bool holds = false;
  std::optional<theory::Chord> chord;
};

/// What shares one beat.
struct Beat {
  std::vector<Entry> entries;
  Position at;
};

class BarReader {
public:
  BarReader(const BarSurroundings& around, Reporter& reporter)
      : around_(around), reporter_(reporter) {}

  ChartBar read(std::span<const Mark> marks) {
    bar_.context = around_.context;
    first_ = marks.front().at;
    for (const Mark& mark : marks)
      take(mark);
    if (in_group_)
      reporter_.error(group_at_, "expected ) after the chords that share this beat");
    if (simile_)
      repeat_bar_before();
    else
      place();
    return std::move(bar_);
  }

private:
  void take(const Mark& mark) {
    switch (mark.kind) {
    case Mark::Kind::space:
      bar_.space = true;
      return;
    case Mark::Kind::simile:
      simile_ = mark.at;
      return;
    case Mark::Kind::slash:
      slashes(mark);
      return;
    case Mark::Kind::group_open:
      open_group(mark);
      return;
    case Mark::Kind::group_close:
      close_group(mark);
      return;
    case Mark::Kind::no_chord:
      add({false, {}}, mark.at);
      return;
    default:
      symbol(mark);
    }
  }

  void slashes(const Mark& mark) {
    has_slash_ = true;
    for (std::size_t i = 0; i < mark.text.size() && beats_.size() < most_beats + 1; ++i) {
      add({true, {}}, {mark.at.line, mark.at.column + static_cast<int>(i)});
      if (in_group_ && beats_.back().entries.size() > 16)
        return;
    }
  }

  void symbol(const Mark& mark) {
    has_chord_ = true;
    auto chord = read_symbol(mark.text, around_.context.key);
    if (!chord)
      reporter_.error({mark.at.line, mark.at.column + chord.error().column - 1},
                      chord.error().reason);
    add(chord ? Entry{false, *chord} : Entry{true, {}}, mark.at);
  }

  void add(Entry entry, Position at) {
    has_chord_ = has_chord_ || !entry.holds;
    if (in_group_)
      beats_.back().entries.push_back(std::move(entry));
    else if (beats_.size() <= most_beats)
      beats_.push_back({{std::move(entry)}, at});
  }

  void open_group(const Mark& mark) {
    if (in_group_) {
      reporter_.error(mark.at, "expected ) before another (: beats are not divided twice");
      return;
    }
    in_group_ = has_group_ = true;
    group_at_ = mark.at;
    beats_.push_back({{}, mark.at});
  }

  void close_group(const Mark& mark) {
    if (!in_group_)
      reporter_.error(mark.at, "unexpected ): no ( before it in this bar");
    else if (beats_.back().entries.empty())
      reporter_.error(mark.at, "expected chords or slashes between ( and )");
    in_group_ = false;
  }

  void repeat_bar_before() {
    if (!beats_.empty())
      reporter_.error(*simile_, "% stands alone in its bar: expected | after it");
    else if (around_.before == nullptr)
      reporter_.error(*simile_, "% repeats the bar before, and this section has none yet");
    else if (around_.before->context.meter != bar_.context.meter)
      reporter_.error(*simile_, "% repeats the bar before, which has another metre");
    else
      bar_.chords = around_.before->chords;
  }

  void place() {
    const Meter meter = bar_.context.meter;
    const auto count = static_cast<int>(beats_.size());
    const int beats = beats_in_bar(meter);
    Ticks step = beat_length(meter);
    Ticks start{0};
    if (has_chord_ && !has_slash_ && !has_group_ && count > 0 && beats % count == 0)
      step = bar_length(meter) / count;
    else if (compound(meter) && count == meter.beats)
      step = unit_length(meter);
    else if (around_.pickup && has_slash_ && count < beats)
      start = step * (beats - count);
    else
      check_count(count, beats);
    for (std::size_t i = 0; i < beats_.size(); ++i)
      place_beat(beats_[i], start + step * static_cast<std::int64_t>(i), step);
  }

  void check_count(int count, int beats) {
    const auto in_all = "in a bar of " + std::to_string(beats);
    if (count > beats)
      reporter_.warning(beats_[static_cast<std::size_t>(beats)].at,
                        std::to_string(count) + " beats " + in_all +
                            ": expected | here; what is beyond is left out");
    else if (count < beats && has_chord_ && !has_slash_ && !has_group_)
      reporter_.warning(first_, std::to_string(count) + " chords " + in_all +
                                    " beats: expected slashes to say how long each lasts");
    else if (count < beats && has_chord_)
      reporter_.warning(first_, std::to_string(count) + (count == 1 ? " beat " : " beats ") +
                                    in_all + ": the last is taken to last on");
  }

  void place_beat(const Beat& beat, Ticks at, Ticks length) {
    const auto count = static_cast<std::int64_t>(beat.entries.size());
    if (count == 0 || at >= bar_length(bar_.context.meter))
      return;
    if (length.count % count != 0 || count > 16) {
      reporter_.error(beat.at, "a beat can't be divided into " + std::to_string(count) +
                                   ": expected 2, 3, 4, 5, 6, 8, 10, 12, 15 or 16 parts");
      return;
    }
    for (std::int64_t i = 0; i < count; ++i)
      place_entry(beat.entries[static_cast<std::size_t>(i)], at + length / count * i, beat.at);
  }

  void place_entry(const Entry& entry, Ticks at, Position where) {
    if (entry.holds)
      return;
    if (bar_.chords.size() == most_chords)
      reporter_.error(where, "more than 64 chords in a bar");
    if (bar_.chords.size() <= most_chords)
      bar_.chords.push_back({at, entry.chord});
  }

  const BarSurroundings& around_;
  Reporter& reporter_;
  ChartBar bar_;
  Position first_;
  std::vector<Beat> beats_;
  std::optional<Position> simile_;
  bool in_group_ = false;
  Position group_at_;
  bool has_group_ = false;
  bool has_slash_ = false;
  bool has_chord_ = false;
};

} // namespace

ChartBar read_bar(std::span<const Mark> marks, const BarSurroundings& around, Reporter& reporter) {
  return BarReader(around, reporter).read(marks);
}

} // namespace landfall::song
