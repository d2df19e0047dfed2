#include "app/data.hpp"
#include "app/device_options.hpp"
#include "app/neck_json.hpp"
#include "app/own_sets.hpp"
#include "app/review_json.hpp"
#include "app/setup.hpp"
#include "app/take_file.hpp"
#include "ear/words.hpp"
#include "midi/message.hpp"
#include "theory/words.hpp"

#include <charconv>
#include <iostream>

namespace landfall::app {
namespace {

struct ReviewOptions {
  std::string take, song, player, mode;
  bool json = false, all = false;
};

void print(std::ostream& out, const ear::JudgedChange& change) {
  out << "  bar " << change.bar;
  if (change.beat != 1.0)
    out << " beat " << change.beat;
  out << "  " << ascii(change.chord) << "  " << name_of(change.verdict);
  if (change.degree)
    out << " on " << ascii(*change.degree) << " (" << name_of(*change.approach) << ")";
  else if (change.held)
    out << ", held " << ascii(*change.held);
  out << '\n';
}

/// A line for each chorus, and where asked one for each change; then all of it.
void print_words(std::ostream& out, const Reviewed& reviewed, bool all) {
  const auto& judgement = reviewed.judgement;
  for (const auto chorus : ear::by_chorus(judgement.changes)) {
    out << "chorus " << chorus.front().chorus + 1 << ": " << ear::changes_words(chorus) << '\n';
    if (all)
      for (const auto& change : chorus)
        print(out, change);
  }
  out << "in all: " << ear::changes_words(judgement.changes);
  const auto timing =
      ear::timing_words(judgement.summary, static_cast<int>(judgement.notes.size()));
  out << (timing.empty() ? "" : " · " + timing) << '\n';
  for (const auto& [turn, verdict] : reviewed.trade)
    out << "turn " << turn.turn.number + 1 << ": " << verdict.words << '\n';
}

struct Chosen {
  const midi::smf::Track* track = nullptr;
  std::optional<int> channel;
};

/// The track of a name or the channel of a number, from 1; the last track where none is named.
std::optional<Chosen> choose_player(const midi::smf::File& file, const std::string& name) {
  Chosen chosen;
  if (name.empty()) {
    for (const auto& track : file.tracks)
      if (!player_of(track, std::nullopt, {}).empty() || chosen.track == nullptr)
        chosen.track = &track;
    return chosen.track == nullptr ? std::nullopt : std::optional(chosen);
  }
  for (const auto& track : file.tracks)
    if (lower_case(track.name()) == lower_case(name)) {
      chosen.track = &track;
      return chosen;
    }
  int number = 0;
  const auto [end, status] = std::from_chars(name.data(), name.data() + name.size(), number);
  if (status != std::errc{} || end != name.data() + name.size() || number < 1 || number > 16)
    return std::nullopt;
  chosen.channel = number - 1;
  return chosen;
}

std::vector<PlayerMessage> messages_of(const midi::smf::File& file, const Chosen& chosen) {
  if (chosen.track != nullptr)
    return player_of(*chosen.track, chosen.channel, {});
  std::vector<PlayerMessage> all;
  for (const auto& track : file.tracks) {
    const auto some = player_of(track, chosen.channel, {});
    all.insert(all.end(), some.begin(), some.end());
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const auto& a, const auto& b) { return a.at < b.at; });
  return all;
}

/// The tempos of a file; without any, MIDI's own 120.
void take_tempi(const midi::smf::File& file, practice::Timeline& timeline) {
  timeline.tempi.clear();
  timeline.tempi[Ticks{}] = Tempo{};
  for (const auto& track : file.tracks)
    for (const auto& event : track.events)
      if (const auto* tempo = std::get_if<Tempo>(&event.content))
        timeline.tempi[event.at] = *tempo;
}

Ticks end_of(const midi::smf::File& file) {
  Ticks end;
  for (const auto& track : file.tracks)
    end = std::max(end, track.end);
  return end;
}

/// A file that is not ours: the song begins with it, and loops as long as the player plays.
Take foreign_take(const LoadedSong& song, const std::shared_ptr<const FeelFolder>& feels,
                  const MusicOptions& music, const midi::smf::File& file,
                  std::vector<PlayerMessage> player) {
  auto setup = setup_for(song, feels, music);
  setup.count_in_bars = 0;
  practice::Session session(setup);
  session.start();
  const auto end = end_of(file);
  for (Ticks now; now < end; now += quarter * 4)
    session.advance(now), session.take_plans();
  session.advance(end);
  Take take;
  take.head = {song.song, session.timeline(), setup.seed, {}, end};
  take_tempi(file, take.head.timeline);
  take.player = std::move(player);
  return take;
}

midi::InputSetup input_of(const std::string& mode) {
  midi::InputSetup input;
  if (mode.empty())
    return input;
  const auto read = midi::mode_of(mode);
  if (!read)
    throw UsageError{"--mode: expected one, strings, mpe or mpe-upper, not '" + mode + "'"};
  input.mode = *read;
  return input;
}

} // namespace

int run_review(const Arguments& arguments, const Streams& streams) {
  CommandLine app{"Judges a take again: where it landed, change by change.", "landfall review"};
  ReviewOptions options;
  MusicOptions music;
  app.option("TAKE", options.take, "A take, or any MIDI file together with --song")
      .required()
      .file();
  app.option("--song", options.song, "What was played over, where the file does not say")
      .names("songs", true);
  app.option("--player", options.player,
             "The player's track by name, or channel from 1 (default: the last track)");
  app.option("--mode", options.mode, "How another file is read: one, strings, mpe, mpe-upper")
      .values(mode_names);
  app.flag("--json", options.json, "One JSON document");
  app.flag("--all", options.all, "A line for each change");
  music.add_place(app);
  music.add_notes(app);
  music.add_instrument(app);
  if (const auto done = app.parse(arguments, streams))
    return *done;
  return with_usage(streams, [&]() -> int {
    const auto fail = [&](const std::string& reason) {
      return complain(streams, reason), exit_failure;
    };
    const auto input = input_of(options.mode);
    const auto bytes = read_file(options.take);
    if (!bytes.error.empty())
      return fail(options.take + ": " + bytes.error);
    auto read = read_take(bytes.text);
    if (!read.error.empty())
      return fail(options.take + ": " + read.error);
    const auto feels = load_feels(streams);
    if (!read.take || !options.song.empty()) {
      if (options.song.empty())
        return fail(options.take + ": not a take of ours: say with --song what was played over");
      const auto song = load_song(options.song, streams.in);
      if (!song)
        return fail(song.error());
      const auto chosen = choose_player(read.file, options.player);
      if (!chosen)
        return fail(options.take + ": there is no track or channel '" + options.player + "'");
      read.take = foreign_take(*song, feels, music, read.file, messages_of(read.file, *chosen));
      read.take->instrument = std::make_shared<const neck::Instrument>(instrument_of(music));
      read.take->input = input;
    }
    const auto reviewed = review_take(*read.take, feels);
    if (options.json)
      streams.out << review_json(reviewed, take_tempo(read.take->head.timeline)) << '\n';
    else
      print_words(streams.out, reviewed, options.all);
    return exit_ok;
  });
}

} // namespace landfall::app
