#pragma once

#include "midi/message.hpp"
#include "midi/smf.hpp"
#include "real/studio.hpp"

namespace landfall::real {

/// Notes that begin or end at the same tick, in any order among themselves.
struct Moment {
  Ticks at;
  bool on = false;
  std::vector<std::string> notes; ///< Sorted.
};

/// What a file says must sound: at each tick first what ends, then what begins.
struct Score {
  std::vector<Moment> moments;
  std::map<int, int> programs; ///< By channel.

  std::size_t notes() const; ///< Ons and offs.
  Score from(Ticks tick) const;
};

/// Fails the test if the file can't be read.
midi::smf::File read_song(const std::string& path);
Score score_of(const midi::smf::File& file);
/// What the program itself says that it will play of a song and its options.
Score exported(const Studio& studio, const Command& song);

/// What came, with the channel of the player's own sound left out.
struct Heard {
  std::vector<Recorded> notes;
  std::map<int, int> programs; ///< Those in force when the first note of a channel came.
};
Heard heard(const std::vector<Recorded>& recorded, int without_channel);

/// Fails the test unless what was heard is the score from its start, or if `cut` the last part of
/// it. Returns frame and tick of each note, for measurement.
std::vector<std::pair<std::uint64_t, Ticks>> follow(const Heard& heard, const Score& score);

/// Notes that were begun more often than ended.
std::vector<std::string> hanging(const std::vector<Recorded>& recorded);

} // namespace landfall::real
