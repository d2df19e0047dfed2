#include "practice/what_next.hpp"

#include "song/song.hpp"
#include "time/random.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::practice {
namespace {

using Days = std::chrono::duration<double, std::ratio<86400>>;

constexpr Days forgotten{8.0};
constexpr double steady = 0.6, weak = 0.4, sure = 0.85, mixing = 0.75;
constexpr int few_changes = 12;
constexpr double calm_beats = 110.0;

struct Candidate {
  const CellHistory* known = nullptr;
  Days rested{};
  double need = 0.0;

  bool is_forgotten() const { return rested > forgotten; }
};

double rate_of(const CellHistory& cell) {
  return cell.landings.played < few_changes ? std::min(cell.recent_rate, 0.5) : cell.recent_rate;
}

/// What is hardly known is taken slowly.
double tempo_rate(const CellHistory& cell) {
  return cell.landings.played < few_changes ? 0.0 : rate_of(cell);
}

double need_of(const CellHistory& cell, Days rested) {
  const double rate = rate_of(cell);
  const Days due{1.0 + 6.0 * rate * rate};
  return (1.05 - rate) * std::clamp(rested / due, 0.0, 1.5);
}

std::uint64_t number_of(const Cell& cell) {
  std::uint64_t number =
      static_cast<std::uint64_t>(pitch_class(cell.key.tonic)) * 2 + (cell.key.minor ? 1U : 0U);
  for (const char c : cell.place + "/" + cell.set)
    number = mixed(number ^ static_cast<unsigned char>(c));
  return number;
}

/// From 0.9 to 1.1.
double jitter(std::uint64_t seed, const Cell& cell) {
  return 0.9 + 0.2 * static_cast<double>(drawn_below(1001, {seed, number_of(cell)})) / 1000.0;
}

double mixed_need(const Candidate& candidate, const std::vector<Proposal>& before) {
  double need = candidate.need;
  for (const auto& proposal : before) {
    need *= proposal.cell.key == candidate.known->cell.key ? mixing : 1.0;
    need *= proposal.cell.place == candidate.known->cell.place ? mixing : 1.0;
  }
  return need;
}

std::string rested_words(Days rested) {
  const auto days = std::lround(std::floor(rested.count()));
  return days == 1 ? "since yesterday" : "for " + std::to_string(days) + " days";
}

std::string why_of(const Candidate& candidate) {
  const auto& landings = candidate.known->landings;
  const auto landed =
      "landed " + std::to_string(landings.landed) + " of " + std::to_string(landings.played);
  if (candidate.is_forgotten())
    return "not played " + rested_words(candidate.rested);
  if (landings.played == 0)
    return "hardly tried so far";
  if (landings.played < few_changes)
    return "hardly tried so far: " + landed;
  if (rate_of(*candidate.known) < steady)
    return landed +
           (candidate.rested >= Days{1} ? ", not played " + rested_words(candidate.rested) : "");
  return (candidate.rested >= Days{1} ? "it has rested " + rested_words(candidate.rested) + ", "
                                      : "to keep it: ") +
         landed;
}

class Chooser {
public:
  Chooser(const History& history, Instant now, std::uint64_t seed, const Offers& offers)
      : history_(history), seed_(seed), offers_(offers) {
    for (const auto& cell : history.cells) {
      const Days rested = std::max(Days{0}, Days{now - cell.last});
      candidates_.push_back({&cell, rested, need_of(cell, rested) * jitter(seed, cell.cell)});
    }
  }

  std::vector<Proposal> choose(std::size_t count) {
    const std::size_t fresh = wants_growth() && count > 1 ? 1 : 0;
    while (chosen_.size() + fresh < count && !candidates_.empty())
      take_next();
    while (chosen_.size() < count && grow()) {
    }
    return std::move(chosen_);
  }

private:
  /// Whether nothing that was practised is weak.
  bool wants_growth() const {
    return std::none_of(history_.cells.begin(), history_.cells.end(),
                        [](const auto& cell) { return rate_of(cell) < steady; });
  }

  void take_next() {
    const auto before = [&](const Candidate& a, const Candidate& b) {
      if (a.is_forgotten() != b.is_forgotten())
        return a.is_forgotten();
      return a.is_forgotten() ? a.rested > b.rested
                              : mixed_need(a, chosen_) > mixed_need(b, chosen_);
    };
    const auto best = std::min_element(candidates_.begin(), candidates_.end(), before);
    const auto& cell = *best->known;
    propose(cell.cell, cell.over, tempo_rate(cell), cell.song, why_of(*best));
    candidates_.erase(best);
  }

  void propose(const Cell& cell, theory::Over over, double rate, const std::string& last,
               std::string why) {
    Proposal proposal{cell, over, "", {}, std::move(why)};
    const double factor = rate < weak ? 0.85 : (rate >= sure ? 1.1 : 1.0);
    if (const auto* song = song_for(cell, last, rate < weak)) {
      proposal.song = song->name;
      proposal.tempo = tempo_from_bpm(bpm(song->tempo) * factor);
    }
    chosen_.push_back(std::move(proposal));
  }

  const SongOffer* song_for(const Cell& cell, const std::string& last, bool calm) const {
    std::vector<const SongOffer*> fitting;
    for (const auto& song : offers_.songs)
      if (song.minor == cell.key.minor)
        fitting.push_back(&song);
    const auto leave_out = [&](auto which) {
      if (!std::all_of(fitting.begin(), fitting.end(), which))
        std::erase_if(fitting, which);
    };
    leave_out([&](const auto* song) { return song->name == last; });
    if (calm)
      leave_out(
          [](const auto* song) { return beats_per_minute(song->tempo, song->meter) > calm_beats; });
    if (fitting.empty())
      return nullptr;
    return fitting[drawn_below(fitting.size(), {seed_, number_of(cell), 7})];
  }

  bool is_known(const Cell& cell) const {
    return history_.find(cell) != nullptr ||
           std::any_of(chosen_.begin(), chosen_.end(),
                       [&](const auto& proposal) { return proposal.cell == cell; });
  }

  /// The next place of the cell, or the same place a fourth up.
  std::pair<Cell, std::string> beside(const Cell& cell, int step) const {
    auto next = cell;
    if ((static_cast<std::uint64_t>(step) + seed_) % 2 == 0) {
      const auto& places = offers_.places;
      const auto here = std::find(places.begin(), places.end(), cell.place);
      const auto at = here == places.end() ? 0 : here - places.begin() + 1 + step / 2;
      next.place = places[static_cast<std::size_t>(at) % places.size()];
      return {next, "new: " + ascii(cell.key) + " in another place"};
    }
    next.key = theory::transposed(cell.key, 5 * (1 + step / 2));
    return {next, "new: the same place in another key"};
  }

  bool grow() {
    const auto best =
        std::max_element(history_.cells.begin(), history_.cells.end(),
                         [](const auto& a, const auto& b) { return rate_of(a) < rate_of(b); });
    const bool begins = best == history_.cells.end();
    const auto& from = begins ? offers_.first : best->cell;
    const auto over = begins ? offers_.first_over : best->over;
    if (begins && !is_known(from))
      return propose(from, over, 0.0, "", "a place to begin"), true;
    for (int step = 0; step < 24; ++step)
      if (auto [cell, why] = beside(from, step); !is_known(cell))
        return propose(cell, over, 0.0, "", std::move(why)), true;
    return false;
  }

  const History& history_;
  std::uint64_t seed_;
  const Offers& offers_;
  std::vector<Candidate> candidates_;
  std::vector<Proposal> chosen_;
};

} // namespace

std::vector<Proposal> what_next(const History& history, Instant now, std::uint64_t seed,
                                const Offers& offers, std::size_t count) {
  return Chooser(history, now, seed, offers).choose(count);
}

} // namespace landfall::practice
