#pragma once

#include "app/actions.hpp"
#include "app/background.hpp"
#include "app/chalk.hpp"
#include "app/clicker.hpp"
#include "app/conductor.hpp"
#include "app/device_options.hpp"
#include "app/devices.hpp"
#include "app/hands.hpp"
#include "app/history_keeper.hpp"
#include "app/history_offers.hpp"
#include "app/input_desk.hpp"
#include "app/input_rate.hpp"
#include "app/lists.hpp"
#include "app/live_ear.hpp"
#include "app/live_feels.hpp"
#include "app/notes_window.hpp"
#include "app/open_lesson.hpp"
#include "app/pages.hpp"
#include "app/play_through.hpp"
#include "app/recorder.hpp"
#include "app/scene_form.hpp"
#include "app/set_list_page.hpp"
#include "app/settings.hpp"
#include "app/take_picture.hpp"
#include "app/trading.hpp"
#include "app/typed_notes.hpp"
#include "midi/controls.hpp"
#include "practice/rest_hint.hpp"
#include "practice/routine.hpp"
#include "render/window.hpp"

#include <map>

namespace landfall::app {

/// Jam: the window, the player and the band. One thread, the one that opened the window.
class Room {
public:
  struct Start {
    practice::Session::Setup setup;
    std::shared_ptr<const FeelFolder> feels;
    Settings settings;
    neck::Instrument instrument;
    midi::ControlMap controls;
    std::filesystem::path history;    ///< Its file: see history_file().
    ModeWish mode;                    ///< For the input that the player's turns out to be.
    std::string notice;               ///< One line to begin with.
    std::optional<LessonFile> lesson; ///< Opened at once.
    bool plays = false;               ///< Starts by itself.
    std::optional<int> notes;         ///< The display of the teacher's own window.
    bool saves = true;                ///< Remembers the settings at the end.
  };

  Room(std::unique_ptr<render::Window> window, Start start);
  ~Room();

  /// Until the player ends it, or `stop_asked` says so.
  void run(const std::function<bool()>& stop_asked);

  /// How often the picture was made anew.
  std::uint64_t frames_laid_out() const { return frames_laid_out_; }

private:
  // room.cpp: the loop
  bool moves_by_itself();
  bool take_inputs(std::chrono::milliseconds wait);
  void draw();
  render::Frame frame();
  std::string notice() const;

  // room_pages.cpp: the pages over the picture, the last one on top
  Page* top_page();
  ChoiceList* list();
  void open(std::unique_ptr<Page> page);
  void show_list(ChoiceList list);
  void show_list_again(ChoiceList list);
  void close_page();
  void close_list();
  void close_closed_pages();
  template <typename View> bool shows();
  template <typename View, typename... Arguments> void toggle(Arguments&&... arguments);

  // room_songs.cpp: songs, as they were left, and set lists
  practice::SongPlan plan_now() const;
  void remember_song();
  void forget_song();
  void play_plan(const practice::SongPlan& plan);
  void open_set_lists();
  void play_from_set_list(std::size_t song);
  void next_in_set_list(int steps);
  void open_moves();
  void recall_band();
  void remember_band();

  // room_charts.cpp: tunes of one's own
  void open_quick_chart();
  void hear_chart(const song::Song& song);
  bool save_chart(const std::string& text, const std::string& title, bool over);

  // room_input.cpp: what the player does to the window and the instrument
  void take(const render::Input& input);
  void press(const render::KeyPress& press);
  bool press_as_note(const render::KeyPress& press);
  void click(const render::MousePress& press);
  void drag();
  void click_on_picture(const render::Hit& hit);
  render::Hit hit(const render::Frame& frame, render::Point at) const;
  void show_help();
  void let_go(Hands::Source source);
  void sound(Hands::Source source, int velocity, std::optional<int> string,
             std::optional<int> fret);
  void hear(const midi::InputEvent& event, std::uint8_t input);
  Hands::Strike strike_at(TimePoint when, int midi) const;

  // room_status.cpp: words that are clicked
  void click_on_status(render::StatusPart part);
  void click_on_hint(const render::HitHint& hint);
  bool choose_in_status(const std::string& value);
  std::string feel_now() const;

  // room_ear.cpp: what is said of it
  ear::NoteClass class_at(TimePoint when, int midi) const;
  Listener::Setup ear_setup() const;
  void listen_on();
  void begin_to_listen();
  void performance_is_over();
  void record(const midi::StampedMessage& message);
  Ticks heard_at(TimePoint time, int channel) const;
  void ask_for_take();
  void keep_take(const std::shared_ptr<const Recording>& recording);
  void hear_background();

  // room_takes.cpp
  bool perform_takes(Action action);
  bool is_of_replay(Action action);
  bool is_heard(bool note_on) const;
  void show_takes();
  void open_take(const std::filesystem::path& path);
  void hear_last_chorus();
  void loop_last_change();

  void chorus_is_over(const LiveEar::Chorus& chorus);
  void tell_ear(const midi::InputEvent& event, TimePoint time, int channel);
  void tell_ear_typed(int midi, int velocity, bool on);
  void show_heard(FrameInput& input) const;
  void own_word(bool landed);

  // room_history.cpp: what is kept of it, and what comes next
  void remember(const LiveEar::Chorus& chorus);
  bool perform_history(Action action);
  void propose();
  void show_next();
  void start_next();
  void choose_next(const std::string& index);
  void start_proposal(std::size_t index);
  void toggle_routine();
  void follow_practice();
  void next_fading();
  void say_long(std::string message);

  // room_calibrate.cpp
  void calibrate();

  // room_trade.cpp: phrases back and forth
  void trade_on();
  Trading::Around trade_around() const;
  void obey_trade();
  void end_trade(std::shared_ptr<const practice::Timeline> timeline, std::uint64_t run, Ticks at);
  void show_trade(FrameInput& input, std::vector<SoundingNote>& sounding);

  // room_teacher.cpp: a second player
  bool teacher_is_there() const;
  const neck::Instrument& teacher_instrument() const;
  void hear_teacher(const midi::InputEvent& event);
  void listen_to_teacher();
  void show_teacher(FrameInput& input);
  void next_teacher_instrument();
  void recall_teacher_instrument();
  bool perform_trade(Action action);
  void toggle_trade();
  void ask_for(void (Trading::*what)(), const char* words);
  void next_kind();
  void next_density();
  void next_length();
  void next_drill();

  // room_lesson.cpp: scenes on the big screen
  bool perform_lesson(Action action);
  void show_scenes();
  void choose_lesson(const std::string& value);
  SceneState state_now() const;
  void open_lesson(LessonFile file);
  void step_scene(int steps);
  std::vector<trade::Density> densities() const;
  void show_scene(std::size_t number);
  void leave_lesson();
  void go_to(OpenLesson::Coming coming);
  void follow_lesson();
  void tell_band(const SceneState& state);
  void settle_scene();
  void trade_as(bool trades, const TradeChoice& choice);
  void show_lesson(FrameInput& input) const;
  void click_on_scene(render::HitScene::Part part);

  // room_scenes.cpp: lessons made in the window
  practice::Scene seen_as_scene(const practice::Scene* before) const;
  void add_scene();
  bool keep_scene(const SceneWords& words);
  bool save_lesson(LessonFile& file);
  void word_scene(std::size_t scene);
  void settle_scenes(std::vector<practice::Scene> whole);
  std::vector<practice::Scene> whole_scenes() const;
  void move_scene(std::size_t from, std::size_t to);
  void remove_scene(std::size_t scene);

  // room_stage.cpp: held and stepped, played through, drawn upon
  bool perform_stage(Action action);
  const song::Stretch& first_stretch() const;
  void hold();
  void go_on();
  void step_held(std::vector<Ticks> (*steps)(const song::Stretch&), int by);
  void follow_held();
  void show_count(FrameInput& input);
  void play_through();
  void hold_still(FrameInput& input) const;
  void show_stage(FrameInput& input, std::vector<SoundingNote>& sounding);
  // room_notes.cpp: the teacher's own window, and what is played while the chalk is up
  void open_notes(int display);
  void follow_notes();
  void draw_by_playing(int midi, std::optional<int> string);

  void take_up_chalk();
  void use_chalk(PlaceKey place);
  bool take_chalk(const render::MousePress& press);
  void draw_chalk(const render::MouseRelease& release);

  // room_phrases.cpp: phrases that are kept
  bool perform_phrases(Action action);
  void show_phrases();
  void call_phrase(const std::string& name);
  void keep_phrase();

  // room_rig.cpp: the instruments and how they are read
  bool take_messages();
  void follow_devices();
  DeviceWish device_wish() const;
  void wish_devices();
  void follow_inputs(const std::vector<InputInfo>& inputs);
  void end_what_is_held(bool by_teacher);
  void remember_input(const std::string& port, const midi::InputSetup& setup);
  void perform(const midi::Asked& asked);
  bool perform_rig(Action action);
  ChoiceList ports_page();
  void choose_input(const std::string& value);
  void choose_clock(const std::string& value);
  void choose_part(const std::string& value);
  void use_controls(const midi::ControlMap& map);
  void show_controls();
  void show_rig();

  // room_settings.cpp
  void show_settings();
  void show_first_questions();
  bool choose_setting(const std::string& value);
  void play_test_sound();
  std::string latency_words() const;

  // room_actions.cpp: the table's actions
  void perform(Action action);
  bool perform_playing(Action action);
  bool perform_place(Action action);
  bool perform_notes(Action action);
  bool perform_band(Action action);
  bool perform_ear(Action action);
  bool perform_songs(Action action);
  bool perform_look(Action action);
  bool perform_view(Action action);
  bool perform_window(Action action);
  void toggle_play();
  void end_now();
  void look_at_feels();
  void next_click();
  ChoiceList band_choices();
  void show_band();
  void choose_band(const std::string& value);
  void tap_tempo();
  void change_tempo(double beats);
  void loop(std::optional<practice::BarRange> range);
  void loop_section();
  void loop_edge(bool first);
  void move_place(int steps);
  void move_fret(int frets);
  void move_key(int half_steps);
  void next_set(int steps);
  void next_target();
  void next_groups();
  void next_grip();
  void show_places();
  void choose_place(const neck::Position& place);
  void next_feel(int steps);
  void use_feel(const std::string& feel);
  void use_instrument(const InstrumentChoice& wanted);
  void choose_tuning(const std::string& tuning);
  void move_capo(int frets);
  void mute(band::Part part, const char* name);
  void choose(const std::string& value);
  void choose_song(const std::string& name);
  void choose_set(const std::string& name);
  void choose_port(const std::string& value);
  void choose_latency(const std::string& name);
  void choose_own_sound(bool own);
  void show_ports_again();
  std::string save();

  practice::Choice choice() const;
  std::optional<song::Moment> here() const;
  void say(std::string message);
  std::optional<Ticks> tick_now(TimePoint when) const;

  std::unique_ptr<render::Window> window_;
  std::shared_ptr<LiveFeels> feels_;
  Settings settings_;
  Settings saved_;
  neck::Instrument instrument_;
  bool saves_;
  std::uint64_t seed_; ///< Of the band's variations.
  std::string notice_;
  ModeWish mode_wish_;
  midi::ControlMap control_map_;
  midi::Controls controls_;
  bool listens_to_all_ = false; ///< While a control is learned.

  Conductor conductor_;
  Devices devices_;
  InputDesk desk_;
  LiveEar ear_;
  std::uint64_t heard_run_ = 0; ///< The performance that the ear listens to; 0: none.
  Transport heard_transport_;
  std::shared_ptr<const practice::Timeline> heard_timeline_;
  HistoryKeeper history_;
  practice::Offers offers_;
  std::vector<practice::Proposal> proposals_;
  std::size_t next_proposal_ = 0;
  std::optional<practice::Routine> routine_;
  practice::RestHint rest_hint_;
  Recorder recorder_;
  bool keeps_take_ = false;
  practice::SetList set_list_; ///< The one that is played from.
  std::size_t set_list_at_ = 0;
  bool song_has_name_ = true; ///< False for a chart that was only heard.
  std::shared_ptr<const Recording> last_recording_, kept_recording_;
  std::unique_ptr<Clicker> test_sound_;
  std::optional<Ticks> left_at_; ///< Where the performance waits while its chorus is heard again.
  std::shared_ptr<TakePicture> replayed_;
  Background background_;
  std::unique_ptr<Trading> trading_; ///< Null in Jam.
  TradeChoice trade_choice_;
  std::optional<trade::Phrase> kept_call_; ///< The call that was kept last.
  LiveEar teacher_ear_;                    ///< Listens from the trade's or the performance's start.
  Hands teacher_hands_;
  std::optional<neck::Instrument> teacher_instrument_; ///< None: as the player's.
  std::vector<SoundingNote> teacher_sounding_;         ///< Of the frame that is being built.
  std::uint64_t taught_run_ = 0;
  std::uint64_t traded_run_ = 0;
  std::optional<OpenLesson> lesson_;
  std::string lesson_made_;   ///< The title of the one that scenes were added to last.
  std::optional<Ticks> held_; ///< Where the band is held, of the performance laid out.
  std::shared_ptr<const song::Song> held_song_;
  std::optional<Ticks> goes_on_at_;    ///< While it is counted in from there.
  std::optional<PlayThrough> through_; ///< A set that is being played through.
  bool through_still_ = false;         ///< Its lights are those of a band that plays.
  Chalk chalk_;
  ChalkMode chalk_mode_ = ChalkMode::down;
  std::unique_ptr<NotesWindow> notes_;
  render::Status status_;              ///< As drawn last.
  std::optional<PlaceKey> chalk_from_; ///< Where the button went down.
  Hands hands_;
  InputRate input_rate_;
  std::uint64_t frames_laid_out_ = 0;
  std::unique_ptr<midi::LatenessHistogram> frame_times_ =
      std::make_unique<midi::LatenessHistogram>(); ///< Work for each frame that was drawn.
  Snapshot snapshot_;
  DeviceState device_state_;

  std::vector<std::unique_ptr<Page>> pages_;
  bool places_ = false;
  bool typing_notes_ = false;
  std::map<std::string, Hands::Source> typed_; ///< By key.
  std::optional<Hands::Source> clicked_;
  bool button_down_ = false;
  bool clicked_page_ = false;               ///< By the first of the clicks that are being made.
  std::optional<render::Point> dragged_to_; ///< Not shown yet.
  std::string message_;
  TimePoint message_until_;
  TimePoint feels_due_; ///< When to look at their files again.
  std::vector<TimePoint> taps_;
  bool quit_ = false;
  bool changed_ = true; ///< The picture must be made anew.
};

template <typename View> bool Room::shows() {
  return dynamic_cast<const View*>(top_page()) != nullptr;
}

/// Opens a page, or closes it where it is on top.
template <typename View, typename... Arguments> void Room::toggle(Arguments&&... arguments) {
  if (shows<View>())
    return close_page();
  open(std::make_unique<View>(std::forward<Arguments>(arguments)...));
}

} // namespace landfall::app
