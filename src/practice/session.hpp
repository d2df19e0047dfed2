#pragma once

#include "band/band.hpp"
#include "practice/choice.hpp"
#include "song/performance.hpp"
#include "song/song.hpp"

#include <map>
#include <memory>
#include <vector>

namespace landfall::practice {

/// Notes that replace all planned from `from` on, in performance ticks.
struct Plan {
  Ticks from;
  Ticks to;
  std::vector<band::Event> events; ///< Sorted; those of anticipations may lie before `from`.
  std::string feel;                ///< Whose sounds they are meant for.
  bool drone = false;              ///< Held tones in place of the feel.
};

/// A command as it took hold.
struct Applied {
  Ticks at;
  Command command;
  bool by_itself = false; ///< A step of moves, not the player's.
};

/// The timeline as performed: what was, and will be, played when, and what was chosen when. A
/// value; the judge and the window read it, a take stores it.
struct Timeline {
  song::Performance performance;
  Choice first;                 ///< What held at the start.
  std::vector<Applied> applied; ///< In the order of their ticks.
  std::map<Ticks, Tempo> tempi; ///< Every tempo with the tick where it takes over.
  Ticks count_in;               ///< Length of the count-in: the performance starts at -count_in.

  /// What holds at `tick`.
  Choice choice_at(Ticks tick) const;
  Tempo tempo_at(Ticks tick) const;
  /// The first tempo that takes over after `tick`, if one does.
  std::optional<std::pair<Ticks, Tempo>> tempo_after(Ticks tick) const;
};

/// The form up to and with the bar at `from`, and a bar more in which the song comes home.
song::Form closed(const song::Form& form, Ticks from);

/// Loops a song for as long as one likes and lets everything change on musical boundaries. Reads no
/// clock: it is told the present tick. Not thread-safe.
class Session {
public:
  struct Setup {
    std::shared_ptr<const song::Song> song;
    std::shared_ptr<const band::FeelBook> feels;
    Choice choice;
    std::uint64_t seed = 1;
    std::optional<int> count_in_bars; ///< In place of the choice's.
    int choruses = 0;                 ///< 0: for ever.
    bool ending = false;              ///< Whether the last chorus closes the song.
  };

  explicit Session(Setup setup);

  /// Begins anew from the top, with a count-in unless told otherwise. The first plans are in
  /// take_plans().
  void start(bool counts_in = true);

  /// Ends the performance: the timeline is that of the next one, from the top.
  void stop() { reset(); }

  /// Applies a command. `soonest` is the first tick that can still be planned for: a little after
  /// the present one. While not started it holds from the start.
  void apply(const Command& command, Ticks soonest);

  /// Follows an outside clock: `tempo` is that of `at` and all that follows, whatever the song's
  /// text says, until the next start. No command: the timeline keeps the tempo alone.
  void steer(Ticks at, Tempo tempo);

  /// Lays out sixteen bars beyond `now`, and plans the band for two.
  void advance(Ticks now);

  /// Plans made since the last call, in the order in which they replace each other.
  std::vector<Plan> take_plans() { return std::exchange(plans_, {}); }

  const Timeline& timeline() const { return timeline_; }
  const Choice& latest_choice() const { return choice_; }
  const song::Song& song() const { return *setup_.song; }
  bool started() const { return started_; }
  /// Whether the performance closes, or has closed, by an End.
  bool ending() const { return ending_form_ != nullptr; }

  /// Where the last chorus ends, once that is laid out; none when it loops for ever.
  std::optional<Ticks> last_tick() const;

private:
  std::shared_ptr<const song::Form> form();
  void reset();
  void lay_out(Ticks until);
  void plan_count_in();
  void skip_count_in();
  void append_next();
  void append(int chorus, const std::shared_ptr<const song::Form>& form, Ticks from, Ticks to);
  void plan(const song::Stretch& stretch, Ticks from);
  void rearrange(Ticks at);
  int bars_before(const song::Stretch& stretch) const;
  void lay_tempi(const song::Stretch& stretch, Ticks after);
  void replan(Ticks at);
  void end(Ticks at);
  void change_tempo(Ticks at);
  void record(Ticks at, const Command& command, bool by_itself = false);
  void settle(Ticks until);
  void forget_moves(Ticks after);
  void begin_moves(const Command& command, Ticks at);
  void move_on(int chorus, Ticks top);
  void move_key(Ticks top);
  std::pair<Ticks, Ticks> loop_ticks(const song::Form& form) const;
  bool finished() const;

  Setup setup_;
  Choice choice_;          ///< With the moves that have happened.
  Choice laid_;            ///< What holds where the layout ends: with those to come.
  Ticks settled_;          ///< Moves up to here are in choice_.
  int key_moves_from_ = 0; ///< The chorus from which they count.
  int tempo_moves_from_ = 0;
  Timeline timeline_;
  std::vector<Plan> plans_;
  int next_chorus_ = 0;
  std::size_t planned_ = 0; ///< Of the performance's stretches, from the first.
  bool started_ = false;
  bool steered_ = false;
  bool loosened_ = false; ///< Notes that are planned may lie off their places.
  std::shared_ptr<const song::Form> ending_form_; ///< Of the last stretch, after an End.
  std::shared_ptr<const song::Form> form_;        ///< Of form_key_ and form_feel_.
  theory::Key form_key_;
  std::string form_feel_;
};

} // namespace landfall::practice
