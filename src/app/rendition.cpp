#include "app/rendition.hpp"

#include "midi/wav.hpp"

#include <cassert>
#include <sstream>

namespace landfall::app {

Rendition::Rendition(practice::Session::Setup setup, std::vector<band::Part> parts)
    : feels_(setup.feels), session_(std::move(setup)), plans_(plan_to_the_end(session_)) {
  recorded_.timeline = &session_.timeline();
  recorded_.plans = plans_;
  recorded_.feels = feels_.get();
  recorded_.title = session_.song().title;
  recorded_.from = -session_.timeline().count_in;
  recorded_.to = *session_.last_tick();
  recorded_.parts = std::move(parts);
}

std::string Rendition::midi() const {
  const auto bytes = midi::smf::write(file_of(recorded_));
  return {bytes.begin(), bytes.end()};
}

FileText Rendition::wav() const {
  if (!midi::has_synth())
    return {"", "this build has no synth, so there is no sound to write"};
  std::ostringstream out;
  auto reason = midi::render_wav(schedule_of(recorded_), length(), {}, out);
  if (!reason.empty())
    return {"", std::move(reason)};
  return {std::move(out).str(), ""};
}

Nanoseconds Rendition::length() const {
  return time_of(recorded_, recorded_.to);
}

} // namespace landfall::app
