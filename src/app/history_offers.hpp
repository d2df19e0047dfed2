#pragma once

#include "neck/instrument.hpp"
#include "practice/what_next.hpp"

namespace landfall::app {

/// Every song that there is, and the places of an instrument. Reads all song files: some
/// milliseconds.
practice::Offers offers_for(const neck::Instrument& instrument);

/// The proposals of today: they change by what is practised, and by the day.
std::vector<practice::Proposal> todays_proposals(const practice::History& history,
                                                 const practice::Offers& offers);

/// The song's title, or its name where it has none.
std::string proposed_title(const practice::Proposal& proposal, const practice::Offers& offers);

/// Beats a minute as --tempo takes them, in whole beats; 0 where the song is not among the offers.
int proposed_beats(const practice::Proposal& proposal, const practice::Offers& offers);

} // namespace landfall::app
