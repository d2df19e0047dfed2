#pragma once

#include "app/data.hpp"
#include "app/frame_builder.hpp"
#include "app/help.hpp"
#include "app/places_page.hpp"
#include "app/setup.hpp"
#include "practice/hand.hpp"
#include "render/fonts.hpp"

#include <doctest/doctest.h>

#include <map>
#include <random>
#include <sstream>

namespace landfall::test {

using namespace app;
using render::Size;

/// Crowded bars, long symbols, keys of many flats, odd and compound metres.
inline constexpr const char* hard_songs[] = {
    "title: The Lamplighter's Very Long Way Home by Every Bridge There Is\nkey: Gb\nmeter: 4/4\n\n"
    "A section with a rather long name:\n"
    "| Gbmaj7#11/Bb Cbmaj9 Ebm7b5/Bbb Ab13b9 | Dbm11 Gb7alt Cb6/9 Bbbdim7 |\n"
    "| Abm7 Db7sus4/Ab | Ebm(maj7) / Abm9/Cb / | Fm7b5 Bb7#9#5 | N.C. | Cbm6 / / Gb | Db13 space "
    "|\n",
    "title: Seven\nkey: Abm\nmeter: 7/8\ntempo: 200\n\n"
    "| Abm7 / Dbm7/Fb / Gb7b9 / Cbmaj7 | Fbmaj7#5 / / Bbm7b5 / Eb7#9 / | Abm(maj7) |\n"
    "| (Abm7 Db9) / / / Gb13 / (Cb7 Fb7) |\n",
    "title: Twelve\nkey: Db\nmeter: 12/8\ntempo: 70\n\nIn:\n"
    "| Dbmaj7/Ab Gb13#11 Ebm7b5/Gb Ab7b9b13 | Db6/9 / Bbm7 Bbm7/Ab |\n\nOut:\n"
    "| Gbm6 Cb13 | Fbmaj9 Abbmaj7 Bbbm7 Ebb9 |\n"};

inline constexpr Size sizes[] = {{800, 450},   {1024, 768},  {1280, 720}, {1920, 1080},
                                 {2560, 1080}, {3440, 1440}, {3840, 2160}};
inline constexpr double scales[] = {0.75, 1.0, 1.3, 1.6, 2.0};
inline constexpr const char* instruments[] = {"guitar",       "bass",         "keyboard",
                                              "seven-string", "eight-string", "five-string-bass",
                                              "banjo",        "mandolin",     "guitar"};
inline constexpr const char* sets[] = {"fitting", "composite", "arpeggio", "minor pentatonic",
                                       "1 b2 2 b3 3 4 b5 5 b6 6 b7 7"};
inline constexpr neck::LabelKind kinds[] = {neck::LabelKind::degree, neck::LabelKind::key_degree,
                                            neck::LabelKind::name, neck::LabelKind::finger};

/// The songs, feels, instruments and fonts, read once.
struct Library {
  std::vector<std::shared_ptr<const song::Song>> songs;
  std::map<std::string, neck::Instrument> instruments;
  std::shared_ptr<const FeelFolder> feels;
  std::unique_ptr<render::Fonts> fonts;

  Library() {
    std::vector<std::string> problems;
    feels = FeelFolder::load(problems);
    fonts = std::move(render::Fonts::open(fonts_folder().string()).value());
    for (int often = 0; often < 6; ++often)
      for (const char* text : hard_songs) {
        std::istringstream in(text);
        const auto song = load_song("-", in);
        REQUIRE_MESSAGE(song, (song ? "" : song.error()));
        songs.push_back(song->song);
      }
    std::istringstream nothing;
    for (const auto& file : song_files())
      if (const auto song = load_song(file.string(), nothing))
        songs.push_back(song->song);
    for (const char* name : test::instruments)
      instruments.emplace(name, load_instrument(name).value());
  }
};

/// One combination, and what it draws.
class Stage {
  template <typename Values> auto pick(const Values& values) {
    return values[random_() % std::size(values)];
  }
  bool chance(unsigned one_in) { return random_() % one_in == 0; }

public:
  Stage(const Library& library, unsigned seed) : library_(library), random_(seed) {
    song_ = pick(library.songs);
    instrument_name_ = pick(instruments);
    instrument_ = library.instruments.at(instrument_name_);
    size_ = pick(sizes);
    choose_look();
    choose_music();
  }

  std::string words() const {
    std::ostringstream out;
    out << song_->title << " in " << key_words(session_->latest_choice().key) << ", "
        << instrument_name_ << ", " << size_.width << "x" << size_.height << " x"
        << input_.look.text_scale << (input_.look.whole_board ? " whole" : " position")
        << (input_.look.true_spacing ? " true" : "") << (input_.look.left_handed ? " left" : "")
        << (input_.look.grip ? " grip" : "") << " groups " << input_.look.groups << " tick "
        << input_.snapshot.transport.anchor_tick.count << " page " << input_.page.index()
        << (input_.other ? " two" : "") << (input_.scene ? " scene" : "");
    return out.str();
  }

  render::Frame frame() { return build_frame(input_); }
  Size size() const { return size_; }
  bool covered() const { return input_.page.index() != 0; }

private:
  void choose_look() {
    Look& look = input_.look;
    look.theme = chance(2) ? render::Theme::stage : render::Theme::paper;
    look.text_scale = pick(scales);
    look.labels = pick(kinds);
    look.chord_tones = chance(2);
    look.grip = chance(3);
    look.grip_number = chance(4) ? 1 : 0;
    look.groups = chance(3) ? static_cast<int>(random_() % 5) + 1 : chance(6) ? 99 : 0;
    look.whole_board = chance(3);
    look.true_spacing = chance(3);
    look.left_handed = chance(4);
    look.seen_by_player = chance(4);
  }

  void choose_music() {
    MusicOptions options;
    practice::Session::Setup setup = setup_for({song_, "test"}, library_.feels, options);
    setup.choice.key.tonic =
        theory::transposed(setup.choice.key, static_cast<int>(random_() % 12)).tonic;
    setup.choice.set = theory::parse_note_set(pick(sets)).value();
    const auto places = neck::all_positions(instrument_, setup.choice.key);
    if (!places.empty())
      setup.choice.place = practice::request_for(pick(places));
    session_ = std::make_unique<practice::Session>(std::move(setup));
    if (chance(4))
      session_->apply(practice::SetLoop{{{1, 2}}}, {});
    session_->start();
    choose_moment();
    dress();
  }

  /// Stopped, in the count-in, at the top, anywhere, just before and at a turnaround.
  void choose_moment() {
    session_->advance({});
    const auto& performance = session_->timeline().performance;
    const Ticks turn = performance.stretches().front().end();
    const std::int64_t whole = turn.count;
    const std::int64_t moments[] = {
        -session_->timeline().count_in.count / 2,
        0,
        whole - 1,
        whole,
        whole - 960,
        static_cast<std::int64_t>(random_() % static_cast<unsigned>(whole))};
    const Ticks at{pick(moments)};
    session_->advance(std::max(at, Ticks{}));
    auto& snapshot = input_.snapshot;
    snapshot.timeline = std::make_shared<const practice::Timeline>(session_->timeline());
    snapshot.song = song_;
    snapshot.choice = session_->latest_choice();
    snapshot.transport.rolling = !chance(6);
    snapshot.transport.anchor_tick = at;
    input_.instrument = &instrument_;
    now_ = at;
  }

  void dress() {
    input_.summary = "landed 14 of 17 · thirds 6, sevenths 3, roots 5";
    input_.hints = usual_hints(true);
    input_.ports = "in: stage keys · out: built-in synth";
    if (chance(3))
      input_.notice = "stage keys was unplugged; waiting for it";
    if (chance(3))
      input_.message = "from the next bar: A shape, frets 9–12";
    for (const int midi : {60, 67}) {
      SoundingNote note;
      note.midi = midi;
      note.bend = midi == 60 ? 0.0 : 0.4;
      sounding_.push_back(note);
    }
    if (chance(2))
      input_.sounding = sounding_;
    for (const int quarters : {-8, -4, -2, -1, 0}) {
      ear::JudgedChange judged;
      judged.at = now_ + quarter * quarters;
      judged.verdict = pick(verdicts);
      judged.degree = theory::parse_degree(quarters == -2 ? "b13" : "b7").value();
      judged_.push_back(judged);
    }
    input_.judged = judged_;
    if (!input_.look.whole_board && chance(5))
      input_.other = OtherPlayer{
          &library_.instruments.at(chance(2) ? "keyboard" : "bass"), {}, "landed 3 of 4"};
    else if (chance(8))
      input_.scene = SceneView{"4 of 12", "Triads hiding in the grip of every chord",
                               "Land on the third. Say the degree aloud before you play it."};
    if (chance(12))
      input_.page = help_page();
    else if (chance(8) && instrument_.kind == neck::Instrument::Kind::fretted)
      input_.page = build_places(input_);
  }

  static constexpr ear::Verdict verdicts[] = {ear::Verdict::landed, ear::Verdict::late,
                                              ear::Verdict::off};

  const Library& library_;
  std::mt19937 random_;
  std::shared_ptr<const song::Song> song_;
  std::string instrument_name_;
  neck::Instrument instrument_;
  Size size_;
  std::unique_ptr<practice::Session> session_;
  FrameInput input_;
  Ticks now_;
  std::vector<SoundingNote> sounding_;
  std::vector<ear::JudgedChange> judged_;
};

} // namespace landfall::test
