#pragma once

#include "trade/adaptation.hpp"
#include "trade/call.hpp"

#include <deque>

namespace landfall::trade {

/// Where the next call is to stand.
struct CallPlace {
  const song::Form* form = nullptr; ///< Never null.
  int bar = 1;
  int bars = 2;
  neck::Setting setting;
  Groove groove;
  Tempo tempo;
};

/// A call, and whether it was missed before.
struct Call {
  Phrase phrase;
  bool again = false;
};

/// One call after another: made as hard as the last answers allow, none twice within twenty, and
/// those that were missed come back after 3, 8 and 20 calls more, over whatever bars it is then,
/// until they are answered. The same seed and answers give the same row.
class CallRow {
public:
  /// `densities` from little to much, not empty.
  explicit CallRow(std::uint64_t seed, std::vector<Density> densities = plain_densities());

  Call next(const CallPlace& place);

  /// The call made last was answered, `share` of it (0 to 1) right. A call whose answer had less
  /// than 60 % comes back. Not called for a call that nobody answered.
  void answered(double share);

  /// Calls keep the density `amount` (0 to 1 along the densities), or move again.
  void pin(std::optional<double> amount) { adaptation_.pin(amount); }
  double amount() const { return adaptation_.amount(); }
  bool pinned() const { return adaptation_.pinned(); }

  /// How many missed calls wait to come back.
  std::size_t waiting() const { return missed_.size(); }

private:
  struct Missed {
    Phrase phrase;
    int times = 1; ///< How often it was missed or has come back.
    int due = 0;   ///< At which call it comes back.
  };

  std::optional<Missed> take_due(int bars);
  Phrase make(const CallPlace& place);
  void remember(const Phrase& phrase);

  std::uint64_t seed_;
  std::vector<Density> densities_;
  Adaptation adaptation_;
  std::deque<std::uint64_t> recent_;
  std::vector<Missed> missed_;
  std::optional<Missed> last_; ///< The call made last; times 0 when it is new.
  int count_ = 0;              ///< Calls so far.
};

} // namespace landfall::trade
