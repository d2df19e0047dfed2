#include "app/data.hpp"
#include "app/frame_builder.hpp"
#include "app/help.hpp"
#include "app/places_page.hpp"
#include "app/setup.hpp"
#include "midi/message.hpp"
#include "render/picture.hpp"
#include "song/timeline.hpp"
#include "theory/words.hpp"

#include <filesystem>
#include <iostream>

namespace landfall::app {
namespace {

struct PictureOptions {
  std::string song, at, output, page, size = "1920x1080", theme = "stage", sounding;
  std::string labels = "degree", board = "position", show = "landing,set";
  double text_scale = 1.0;
};

render::Size size_of(const std::string& text) {
  int width = 0, height = 0;
  char rest = 0;
  if (std::sscanf(text.c_str(), "%5dx%5d%c", &width, &height, &rest) != 2 || width < 1 ||
      height < 1 || width > 8192 || height > 8192)
    throw UsageError{"--size: expected WIDTHxHEIGHT up to 8192x8192, not '" + text + "'"};
  return {width, height};
}

std::vector<SoundingNote> sounding_of(const std::string& text) {
  std::vector<SoundingNote> notes;
  std::size_t from = 0;
  while (from < text.size()) {
    const auto comma = std::min(text.find(',', from), text.size());
    const auto word = text.substr(from, comma - from);
    char* end = nullptr;
    const long number = std::strtol(word.c_str(), &end, 10);
    if (word.empty() || *end != '\0' || number < 0 || number > 127)
      throw UsageError{"--sounding: expected MIDI note numbers such as 67,70, not '" + text + "'"};
    SoundingNote note;
    note.midi = static_cast<int>(number);
    notes.push_back(note);
    from = comma + 1;
  }
  return notes;
}

void show(Look& look, const neck::Shown& shown) {
  look.landing = shown.landing;
  look.set_notes = shown.set;
  look.chord_tones = shown.chord_tones;
  look.grip = shown.grip;
  look.groups = shown.groups ? 99 : 0;
  look.grip_number = shown.grips ? 1 : 0;
}

Look look_of(const PictureOptions& options) {
  Look look;
  if (options.theme != "stage" && options.theme != "paper")
    throw UsageError{"--theme: expected stage or paper, not '" + options.theme + "'"};
  look.theme = options.theme == "paper" ? render::Theme::paper : render::Theme::stage;
  if (!(options.text_scale >= 0.75 && options.text_scale <= 2.0))
    throw UsageError{"--text-scale: expected 0.75 to 2"};
  look.text_scale = options.text_scale;
  if (options.board != "position" && options.board != "whole")
    throw UsageError{"--board: expected position or whole, not '" + options.board + "'"};
  look.whole_board = options.board == "whole";
  const auto labels = neck::parse_label_kind(options.labels);
  if (!labels)
    throw UsageError{"--labels: " + labels.error().reason};
  look.labels = *labels;
  const auto shown = neck::parse_shown(options.show);
  if (!shown)
    throw UsageError{"--show: " + shown.error().reason};
  show(look, *shown);
  return look;
}

/// Playing at a place of the form, with what comes after it, or stopped where none is asked for.
/// The clock stands at 0.
Snapshot snapshot_at(practice::Session& session, const std::string& at) {
  Snapshot snapshot;
  snapshot.song = std::make_shared<const song::Song>(session.song());
  snapshot.choice = session.latest_choice();
  if (!at.empty()) {
    const auto place = song::parse_place(at);
    if (!place)
      throw UsageError{"--at: " + place.error().reason};
    const auto& form = *session.timeline().performance.stretches().front().form;
    const auto tick = song::tick_of(form, *place);
    if (!tick)
      throw UsageError{"--at: " + tick.error().reason};
    session.start();
    session.advance(*tick);
    snapshot.transport.rolling = true;
    snapshot.transport.anchor_tick = *tick;
    snapshot.transport.tempo = session.timeline().tempo_at(*tick);
  }
  snapshot.timeline = std::make_shared<const practice::Timeline>(session.timeline());
  return snapshot;
}

} // namespace

int run_picture(const Arguments& arguments, const Streams& streams) {
  CommandLine app{"Draws one frame of the window without a screen.", "landfall picture"};
  MusicOptions music;
  PictureOptions options;
  app.option("SONG", options.song, "A path, a song's name, - or \"A | D | E | A\"")
      .required()
      .names("songs", true);
  app.option("--at", options.at, "BAR:BEAT, from 1; without it the window is stopped");
  app.option("-o,--output", options.output, "The PNG file").required().file();
  app.option("--page", options.page, "A page over it: help or places").values({"help", "places"});
  app.option("--size", options.size, "WIDTHxHEIGHT").show_default();
  app.option("--theme", options.theme, "stage or paper").show_default().values({"stage", "paper"});
  app.option("--text-scale", options.text_scale, "0.75 to 2").show_default();
  app.option("--sounding", options.sounding, "MIDI notes that sound: 67,70");
  app.option("--labels", options.labels, "degree, key, note, finger or none")
      .show_default()
      .values(label_names);
  app.option("--board", options.board, "position or whole")
      .show_default()
      .values({"position", "whole"});
  app.option("--show", options.show, "Layers: landing,set,chord-tones,grip,groups,grips")
      .show_default();
  music.add_place(app);
  music.add_notes(app);
  music.add_instrument(app);
  music.add_band(app);
  if (const auto done = app.parse(arguments, streams))
    return *done;
  return with_usage(streams, [&]() -> int {
    FrameInput input;
    const auto size = size_of(options.size);
    const auto sounding = sounding_of(options.sounding);
    const auto instrument = instrument_of(music);
    if (lower_case(std::filesystem::path(options.output).extension().string()) != ".png")
      throw UsageError{"--output: expected a file that ends in .png, not '" + options.output + "'"};
    input.look = look_of(options);
    input.instrument = &instrument;
    input.sounding = sounding;
    input.hints = usual_hints(!options.at.empty());
    if (options.page == "help")
      input.page = help_page();
    else if (!options.page.empty() && options.page != "places")
      throw UsageError{"--page: there is no page '" + options.page +
                       "' to draw; expected help or places"};
    const auto song = load_song(options.song, streams.in);
    if (!song)
      return complain(streams, song.error()), exit_failure;
    practice::Session session(setup_for(*song, load_feels(streams), music));
    position_of(instrument, session.latest_choice().key, session.latest_choice().place);
    input.snapshot = snapshot_at(session, options.at);
    if (options.page == "places")
      input.page = build_places(input);
    const auto png = render::render_png(build_frame(input), size, fonts_folder().string());
    if (!png)
      return complain(streams, png.error()), exit_failure;
    const auto reason = write_file(options.output, {png->begin(), png->end()});
    if (!reason.empty())
      return complain(streams, options.output + ": " + reason), exit_failure;
    return exit_ok;
  });
}

} // namespace landfall::app
