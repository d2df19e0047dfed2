#include "app/history_offers.hpp"

#include "app/data.hpp"
#include "app/history_file.hpp"
#include "app/library.hpp"
#include "app/setup.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::app {
namespace {

/// Each place once, by its name, those of the instrument's usual key; the usual one first.
std::vector<std::string> places_of(const neck::Instrument& instrument, theory::Key key) {
  std::vector<std::string> places;
  for (const auto& place : neck::all_positions(instrument, key)) {
    const auto name = practice::place_name(instrument, place);
    if (std::find(places.begin(), places.end(), name) == places.end())
      places.push_back(name);
  }
  const auto usual = neck::find_position(instrument, key, {});
  if (usual)
    if (const auto first =
            std::find(places.begin(), places.end(), practice::place_name(instrument, *usual));
        first != places.end())
      std::rotate(places.begin(), first, first + 1);
  return places;
}

} // namespace

practice::Offers offers_for(const neck::Instrument& instrument) {
  practice::Offers offers;
  for (const auto& file : song_files())
    if (const auto song = song::parse_song(read_file(file).text))
      offers.songs.push_back(
          {file.stem().string(), song->key.minor, song->tempo, song->meter, song->title});
  const bool keyboard = instrument.kind == neck::Instrument::Kind::keyboard;
  offers.first.key.tonic.letter = keyboard ? theory::Letter::c : theory::Letter::a;
  offers.places = places_of(instrument, offers.first.key);
  if (offers.places.empty())
    offers.places.push_back("fret 0");
  offers.first.place = offers.places.front();
  offers.first.set = usual_set;
  return offers;
}

std::vector<practice::Proposal> todays_proposals(const practice::History& history,
                                                 const practice::Offers& offers) {
  const auto day = static_cast<std::uint64_t>(today().time_since_epoch().count());
  return what_next(history, instant_now(), day, offers);
}

std::string proposed_title(const practice::Proposal& proposal, const practice::Offers& offers) {
  for (const auto& song : offers.songs)
    if (song.name == proposal.song && !song.title.empty())
      return song.title;
  return proposal.song;
}

int proposed_beats(const practice::Proposal& proposal, const practice::Offers& offers) {
  for (const auto& song : offers.songs)
    if (song.name == proposal.song)
      return static_cast<int>(std::lround(song::beats_per_minute(proposal.tempo, song.meter)));
  return 0;
}

} // namespace landfall::app
