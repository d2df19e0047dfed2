#include "app/pack.hpp"

#include "app/phrase_files.hpp"
#include "app/phrase_midi.hpp"
#include "app/phrase_musicxml.hpp"
#include "app/rendition.hpp"
#include "app/setup.hpp"
#include "app/words.hpp"
#include "song/unroll.hpp"
#include "trade/fit.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>

namespace landfall::app {
namespace {

/// `e-flat-minor`: a key in the name of a file, and in a link to it.
std::string key_name(theory::Key key) {
  const auto text = ascii(key.tonic);
  std::string name(1, text.front());
  for (const char sign : text.substr(1))
    name += sign == 'b' ? "-flat" : "-sharp";
  return hyphenated_name(name) + (key.minor ? "-minor" : "");
}

std::string bars_words(const std::optional<practice::BarRange>& bars) {
  if (!bars)
    return "";
  return bars->first == bars->last
             ? ", bar " + std::to_string(bars->first)
             : ", bars " + std::to_string(bars->first) + " to " + std::to_string(bars->last);
}

/// `Slipway at Six, in A, bars 1 to 4, shuffle`
std::string words_of(const PackGround& ground) {
  return ground.title() + ", in " + key_words(ground.key) + bars_words(ground.bars) +
         (ground.feel.empty() ? "" : ", " + feel_words(ground.feel));
}

std::string stem_of(const PackGround& ground, int beats) {
  auto stem = hyphenated_name(ground.title()) + "-in-" + key_name(ground.key);
  if (ground.bars)
    stem +=
        "-bars-" + std::to_string(ground.bars->first) + "-to-" + std::to_string(ground.bars->last);
  if (!ground.feel.empty())
    stem += "-" + hyphenated_name(ground.feel);
  return stem + "-" + std::to_string(beats) + "-bpm";
}

practice::Session::Setup setup_of(const PackGround& ground, const PackWishes& wishes, int beats) {
  MusicOptions music;
  music.seed = wishes.handout.music.seed;
  auto setup = setup_for(ground.song, wishes.feels, music);
  auto& choice = setup.choice;
  choice.key = ground.key;
  choice.feel = ground.feel;
  choice.loop = ground.bars;
  choice.tempo = song::tempo_from_beats(beats, ground.song.song->meter);
  setup.choruses = wishes.choruses;
  setup.count_in_bars = 0;
  return setup;
}

int at_percent(double beats, int percent) {
  return static_cast<int>(
      std::lround(std::clamp(beats * percent / 100.0, double{min_bpm}, double{max_bpm})));
}

} // namespace

std::string PackGround::title() const {
  return song.song->title.empty() ? song.name : song.song->title;
}

bool PackGround::same_as(const PackGround& other) const {
  return song.name == other.song.name && key == other.key && feel == other.feel &&
         bars == other.bars && std::lround(beats_per_minute) == std::lround(other.beats_per_minute);
}

PackGround ground_of(const LoadedSong& song, const MusicOptions& music) {
  PackGround ground{song, key_of(music, song.song->key), 0, music.feel, {}};
  ground.key.minor = song.song->key.minor;
  ground.beats_per_minute =
      tempo_of(music).value_or(beats_per_minute(song.song->tempo, song.song->meter));
  return ground;
}

Result<std::vector<PackGround>, std::string> grounds_of(const practice::Lesson& lesson) {
  std::vector<PackGround> grounds;
  for (std::size_t i = 0; i < lesson.scenes.size(); ++i) {
    const auto scene = whole_scene(lesson, i);
    if (scene.song.empty())
      continue;
    std::istringstream nothing;
    const auto song = load_song(scene.song, nothing);
    if (!song)
      return "scene " + std::to_string(i + 1) + ": " + song.error();
    auto ground = ground_of(*song, {});
    if (scene.key)
      ground.key.tonic = scene.key->tonic;
    if (scene.tempo)
      ground.beats_per_minute = *scene.tempo;
    ground.feel = scene.feel;
    ground.bars = scene.loop.value_or(std::nullopt);
    if (std::ranges::none_of(grounds, [&](const auto& other) { return other.same_as(ground); }))
      grounds.push_back(std::move(ground));
  }
  return grounds;
}

bool Packer::add(const std::string& name, const std::string& bytes) {
  if (error_.empty() && wishes_.stopped && wishes_.stopped())
    error_ = "stopped before it was done; nothing is written";
  if (error_.empty())
    error_ = files_.add(name, bytes);
  return error_.empty();
}

void Packer::remark(const std::string& line) {
  if (std::ranges::find(remarks_, line) == remarks_.end())
    remarks_.push_back(line);
}

void Packer::add_sheet(const sheet::Sheet& sheet, const std::string& stem) {
  if (!error_.empty())
    return;
  const auto painted = sheet::pdf_of(sheet, wishes_.faces);
  if (painted.error == sheet::no_cairo)
    return remark(painted.error);
  error_ = painted.error;
  if (add(stem + ".pdf", painted.bytes))
    contents_.sheet = stem + ".pdf";
}

void Packer::add_loops(const PackGround& ground) {
  for (const int percent : wishes_.percents)
    add_loop(ground, percent);
}

void Packer::add_loop(const PackGround& ground, int percent) {
  const int beats = at_percent(ground.beats_per_minute, percent);
  const auto stem = "loops/" + stem_of(ground, beats);
  if (!error_.empty() || files_.has(stem + ".mid"))
    return;
  const Rendition rendition(setup_of(ground, wishes_, beats),
                            {band::all_parts.begin(), band::all_parts.end()});
  PackLoop loop{words_of(ground), beats, percent, 0, stem + ".mid", ""};
  loop.seconds = std::chrono::duration<double>(rendition.length()).count();
  if (!add(loop.midi, rendition.midi()))
    return;
  if (wishes_.sound) {
    const auto sound = rendition.wav();
    error_ = sound.error;
    loop.wav = stem + ".wav";
    add(loop.wav, sound.text);
  }
  contents_.loops.push_back(std::move(loop));
}

void Packer::add_phrases(const std::vector<PackGround>& grounds) {
  std::vector<song::Form> forms;
  for (const auto& ground : grounds)
    forms.push_back(unroll(*ground.song.song, ground.key));
  std::vector<std::string> problems;
  for (const auto& file : phrase_files(problems))
    for (std::size_t i = 0; i < grounds.size(); ++i)
      if (auto fit = trade::fit_in(forms[i], file.kept.phrase)) {
        auto kept = file.kept;
        kept.phrase = std::move(fit->phrase);
        add_phrase(kept, file.name, grounds[i], fit->bar);
        break;
      }
  for (const auto& problem : problems)
    remark(problem);
}

void Packer::add_phrase(const trade::KeptPhrase& kept, const std::string& name,
                        const PackGround& ground, int bar) {
  PackPhrase entry{kept.name, kept.about, "", {}};
  entry.where =
      ground.title() + ", from bar " + std::to_string(bar) + ", in " + key_words(kept.phrase.key);
  const auto stem = "phrases/" + hyphenated_name(name) + "-in-" + key_name(kept.phrase.key);
  const auto put = [&](const char* kind, const char* ending, const std::string& bytes) {
    if (add(stem + ending, bytes))
      entry.files.emplace_back(kind, stem + ending);
  };
  const auto tempo = song::tempo_from_beats(ground.beats_per_minute, ground.song.song->meter);
  const auto& instrument = wishes_.handout.instrument;
  std::vector<sheet::Stop> stops;
  if (instrument.kind == neck::Instrument::Kind::fretted) {
    const neck::Fretboard board(instrument);
    if (auto fingering = sheet::fingering_of(kept.phrase, board, std::nullopt, 5))
      stops = std::move(fingering->stops);
  }
  if (!stops.empty())
    if (const auto page = phrase_handout(kept, wishes_.handout))
      if (const auto painted = sheet::pdf_of(*page, wishes_.faces); painted.error.empty())
        put("tablature", ".pdf", painted.bytes);
  const auto midi = midi::smf::write(midi_of(kept, tempo));
  put("MIDI", ".mid", {midi.begin(), midi.end()});
  if (const auto score = musicxml_of(kept, stops, tempo); !score.empty())
    put("MusicXML", ".musicxml", score);
  else
    remark(no_pugixml);
  put("phrase for Landfall", ".phrase", trade::phrase_text(kept));
  if (error_.empty())
    contents_.phrases.push_back(std::move(entry));
}

void Packer::add_index() {
  add("index.html", index_page(contents_));
}

} // namespace landfall::app
