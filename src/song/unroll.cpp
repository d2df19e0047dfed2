#include "song/unroll.hpp"

#include <cstdlib>

namespace landfall::song {

namespace {

/// With at most seven sharps or flats.
theory::Key usable(theory::Key key) {
  return std::abs(theory::signature(key)) > 7 ? theory::usual_key(key) : key;
}

class Unroller {
public:
  Unroller(const Song& song, theory::Key key)
      : song_(song), key_(usable({key.tonic, song.key.minor})),
        half_steps_((pitch_class(key.tonic) - pitch_class(song.key.tonic) + 12) % 12) {}

  Form run() {
    form_.name = song_.title.empty() ? "Untitled" : song_.title;
    form_.key = key_;
    form_.tempo = song_.tempo;
    form_.feel = song_.feel;
    tempo_ = song_.tempo;
    for (const int index : song_.order)
      play(song_.sections[static_cast<std::size_t>(index)]);
    form_.length = at_;
    restore_tempo_at_the_top();
    play_pickup();
    return std::move(form_);
  }

private:
  void play(const Section& section) {
    const std::size_t first = form_.bars.size();
    for (const Passage& passage : section.passages)
      play(passage, section.name);
    if (first < form_.bars.size())
      form_.bars[first].section_start = true;
  }

  void play(const Passage& passage, const std::string& section) {
    for (int pass = 1; pass <= passage.times; ++pass) {
      play(passage.bars, section);
      for (const Ending& ending : passage.endings)
        if (pass >= ending.first_pass && pass <= ending.last_pass)
          play(ending.bars, section);
    }
  }

  void play(const std::vector<ChartBar>& bars, const std::string& section) {
    for (const ChartBar& written : bars) {
      Bar bar = moved(written);
      bar.number = static_cast<int>(form_.bars.size()) + 1;
      bar.section = section;
      bar.start = at_;
      at_ += bar_length(bar.meter);
      form_.bars.push_back(std::move(bar));
    }
  }

  Bar moved(const ChartBar& written) {
    Bar bar;
    bar.meter = written.context.meter;
    bar.key = moved(written.context.key);
    bar.feel = written.context.feel;
    bar.space = written.space;
    if (written.context.tempo != tempo_)
      bar.tempo = tempo_ = written.context.tempo;
    if (written.chords.empty() || written.chords.front().at > Ticks{0})
      bar.chords.push_back({Ticks{0}, sounding_, at_top_, false});
    at_top_ = at_top_ && bar.chords.empty();
    for (const WrittenChord& chord : written.chords)
      bar.chords.push_back(moved(chord, written.context.key));
    return bar;
  }

  ChordAt moved(const WrittenChord& written, theory::Key key) {
    std::optional<theory::Chord> chord;
    if (written.chord)
      chord = key == moved(key) ? *written.chord : transposed(*written.chord, key, moved(key));
    const bool fresh = at_top_ || chord != sounding_;
    at_top_ = false;
    sounding_ = chord;
    return {written.at, std::move(chord), fresh, true};
  }

  theory::Key moved(theory::Key key) const {
    return key == song_.key ? key_ : theory::usual_key(theory::transposed(key, half_steps_));
  }

  /// A chorus that ends in another tempo than it begins in names it at its first bar.
  void restore_tempo_at_the_top() {
    if (!form_.bars.front().tempo && tempo_ != song_.tempo)
      form_.bars.front().tempo = song_.tempo;
  }

  void play_pickup() {
    Ticks length{0};
    for (const ChartBar& written : song_.pickup)
      length += bar_length(written.context.meter);
    sounding_.reset();
    at_top_ = true;
    tempo_ = song_.tempo;
    at_ = -length;
    int number = -static_cast<int>(song_.pickup.size());
    for (const ChartBar& written : song_.pickup) {
      Bar bar = moved(written);
      bar.number = ++number;
      bar.section = "Pick-up";
      bar.section_start = at_ == -length;
      bar.start = at_;
      at_ += bar_length(bar.meter);
      form_.pickup.push_back(std::move(bar));
    }
  }

  const Song& song_;
  theory::Key key_;
  int half_steps_;
  Form form_;
  Ticks at_;
  Tempo tempo_;
  std::optional<theory::Chord> sounding_;
  bool at_top_ = true;
};

} // namespace

Form unroll(const Song& song, const theory::Key& key) {
  return Unroller(song, key).run();
}

Form unroll(const Song& song) {
  return unroll(song, song.key);
}

} // namespace landfall::song
