#pragma once

#include "song/form.hpp"
#include "trade/call.hpp"

#include <string>
#include <vector>

namespace landfall::trade::testing {

/// Forms of songs in songs/, in their keys.
const std::vector<song::Form>& shipped_forms();

/// A guitar, a bass, a mandolin and a keyboard.
const std::vector<neck::Instrument>& instruments();

/// Straight, swung, sixteenths, and three to the beat.
const std::vector<Groove>& grooves();

/// The nth of a long row of requests that go through songs, bars, places, sets, feels, instruments,
/// densities and tempi.
CallRequest varied_request(std::uint64_t n);

song::Form form_of(const std::string& progression, const std::string& key);

/// A guitar, E shape, in this key, with this set.
neck::Setting guitar_setting(const std::string& key, const std::string& set, theory::Over over);

} // namespace landfall::trade::testing
