#pragma once

#include "app/chunks.hpp"
#include "app/replay.hpp"
#include "app/steering.hpp"
#include "midi/clock_follower.hpp"
#include "midi/sender.hpp"
#include "practice/session.hpp"

#include <condition_variable>
#include <memory>
#include <mutex>
#include <span>
#include <thread>
#include <vector>

namespace landfall::app {

/// What the window, and whoever else looks on, needs to know of the performance. Values that never
/// change once handed out.
struct Snapshot {
  std::shared_ptr<const practice::Timeline> timeline; ///< Never null.
  std::shared_ptr<const song::Song> song;             ///< Never null.
  practice::Choice choice; ///< The latest, even where it has not taken hold yet.
  Transport transport;
  std::uint64_t run = 0; ///< Counts the starts.
  /// Timeline, song and transport are those of a replay, or the band only leads back from one: what
  /// is played meanwhile is no part of the performance.
  bool away = false;
};

/// A performance that is over.
struct Performed {
  std::shared_ptr<const practice::Timeline> timeline; ///< Never null.
  std::shared_ptr<const song::Song> song;             ///< Never null.
  std::vector<practice::Plan> band;                   ///< If plans were kept.
  std::uint64_t seed = 1;
  std::uint64_t run = 0; ///< As Snapshot::run while it went on.
};

/// Keeps the band going: plans ahead on a worker thread of its own, hands plans and transport to
/// the senders, and takes the player's commands. All functions may be called by any thread but a
/// real-time one; each returns within about a millisecond.
class Conductor {
public:
  explicit Conductor(practice::Session::Setup setup);
  ~Conductor();

  Conductor(const Conductor&) = delete;
  Conductor& operator=(const Conductor&) = delete;

  /// The transport that senders follow; lives as long as the program, since a sender whose output
  /// blocks may outlive its conductor.
  const midi::Latest<Transport>& transport_link() const { return transport_; }

  /// Adds an output while the band plays or not; what is planned already is handed to it too.
  void add(std::unique_ptr<midi::Sender> sender);
  /// Takes an output away; null if it is none of ours.
  std::unique_ptr<midi::Sender> take(const midi::Sender* sender);
  /// Chooses the sounds of all parts anew, after outputs were routed in another way. The player's
  /// own sound is chosen on `lead_channels`, 0 to 15.
  void send_sounds(std::vector<int> lead_channels);

  /// From the top, with the count-in.
  void start();
  /// A new performance that begins at `at`, a bar line of the one laid out, after a bar of
  /// count-in.
  void start_at(Ticks at);
  void stop();
  bool rolling() const;

  void apply(const practice::Command& command);
  /// Several that belong together: they hold from the same bar line on.
  void apply(std::span<const practice::Command> commands);

  /// Another song; goes on playing, from its top, if it was playing.
  void set_up(practice::Session::Setup setup);

  Snapshot snapshot() const;

  /// Whether outputs are sent MIDI clock.
  void send_clock(bool sends);

  /// Whether it starts, stops and takes its tempo and place with the clock that comes in by
  /// clock_link(). Commands for the tempo are then void while clocks come.
  void follow_clock(bool follows);
  /// For one input's callback; lives as long as the program.
  midi::ClockLink& clock_link() { return clock_; }

  /// Plays a passage of a recorded performance again, in place of one that is replayed. A
  /// performance that goes on waits meanwhile.
  void replay(Replay replay);
  /// Ends the replay, as it ends by itself if it does not loop. A performance that waits goes on
  /// from its next bar line, after a bar of count-in.
  void end_replay();

  /// The performance that ended last; null before the first.
  std::shared_ptr<const Performed> performed() const;
  /// The one that goes on, as far as it has come; null while stopped.
  std::shared_ptr<const Performed> performing() const;

  /// From now on plays these too, at their performance ticks, exactly, in place of those given
  /// before. Sorted. Forgotten at stop. What is due within the next moments may be lost.
  void play_with_band(std::vector<midi::PlannedMessage> notes);

  /// Sends a message at once through every output: the player's own sound.
  void play_now(const midi::ShortMessage& message, TimePoint when);

  /// Ends everything that sounds.
  void panic();

  /// From now on keeps every plan that is handed out, for a take; the oldest are forgotten after
  /// hours.
  void keep_plans();

  /// Adds up over outputs; the lateness is the first's.
  midi::SenderReport report() const;

private:
  using Lock = std::unique_lock<std::mutex>;
  static constexpr std::chrono::milliseconds lead_in{60}; ///< From start() to the first event.

  void run();
  void send_sounds(midi::Sender& sender) const;
  void start_locked();
  void begin(const Transport& transport);
  void stop_locked();
  void hand_over();
  void submit(const midi::Chunk& chunk);
  midi::Chunk with_notes(midi::Chunk chunk) const;
  void follow_tempo(Ticks now);
  Performed performed_so_far() const;
  void publish(const Transport& transport);
  void refresh();
  Ticks soonest() const;
  void play_on(Ticks now);
  bool playing() const { return published_.rolling && !replay_; }
  std::vector<midi::Chunk> take_plans();

  // conductor_clock.cpp
  void heed_clock();
  void start_with_clock(const Transport& line);
  void steer(const midi::ClockReading& reading);
  void count_in_with(const midi::ClockReading& reading, Transport& transport);
  bool is_clock_there() const;
  bool is_led(const practice::Command& command) const;

  // conductor_replay.cpp
  void hand_over_passes(Ticks now);
  void replay_on(Ticks now);
  void end_replay_locked();
  void lead_back();
  Transport replayed_transport() const;
  bool away_locked() const;

  mutable std::mutex mutex_;
  std::condition_variable changed_;
  practice::Session::Setup setup_;
  practice::Session session_;
  std::vector<std::unique_ptr<midi::Sender>> senders_;
  std::vector<midi::Chunk> current_;        ///< What senders have and will still play of the band.
  std::vector<midi::PlannedMessage> notes_; ///< Played with it.
  midi::Latest<Transport>& transport_;
  Transport published_;
  std::shared_ptr<const practice::Timeline> timeline_;
  std::shared_ptr<const Performed> performed_;
  std::vector<practice::Plan> kept_;
  bool keeps_ = false;
  std::uint64_t runs_ = 0;
  std::optional<Replay> replay_;
  std::int64_t passes_ = 0;         ///< Of the replay, handed over.
  std::optional<Ticks> returns_at_; ///< Where a performance waits, or is led back to.
  bool leads_back_ = false;
  std::vector<int> lead_channels_{lead_channel};
  midi::ClockLink& clock_;
  bool sends_clock_ = false;
  bool follows_ = false;
  std::uint64_t clock_starts_ = 0; ///< Heeded.
  bool clock_ran_ = false;
  Ticks clock_to_us_; ///< Our tick less the clock's.
  Steering steering_;
  bool ending_ = false;
  std::thread thread_;
};

} // namespace landfall::app
