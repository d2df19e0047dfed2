#include "app/extra_outputs.hpp"

#include "app/lasting.hpp"
#include "app/outputs.hpp"
#include "midi/rtmidi_ports.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr std::chrono::seconds blocked_limit{2};
constexpr std::chrono::seconds trouble_stays{4};

std::vector<std::string> names_of(const std::vector<midi::PortInfo>& ports) {
  std::vector<std::string> names;
  for (const auto& port : ports)
    names.push_back(port.name);
  return names;
}

bool contains(const std::vector<std::string>& list, const std::string& name) {
  return std::find(list.begin(), list.end(), name) != list.end();
}

} // namespace

bool end_sender(std::unique_ptr<midi::Sender> sender, bool dead) {
  // a call that does not return at once may still do so: ending the sender would wait for ever
  for (auto blocked = sender->blocked_for(Clock::now());
       !dead && blocked > Nanoseconds{} && blocked <= blocked_limit;
       blocked = sender->blocked_for(Clock::now()))
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
  if (!dead && sender->blocked_for(Clock::now()) <= blocked_limit)
    return false;
  midi::Sender::abandon(std::move(sender));
  return true;
}

PartPort open_part(const std::string& wish) {
  const bool own = wish == "virtual";
  auto output = own ? midi::RtMidiOutput::open_virtual("parts") : midi::RtMidiOutput::open(wish);
  if (!output)
    return {};
  auto port = output->port();
  if (own)
    port.name.clear();
  return {std::move(output), std::move(port)};
}

bool ExtraOutputs::tend(const VoiceRoutes& routes, const std::vector<midi::PortInfo>& outputs) {
  const auto wanted = named_ports(routes);
  bool left_behind = false;
  for (std::size_t i = extras_.size(); i-- > 0;) {
    if (contains(wanted, extras_[i].wish) && !is_gone(extras_[i], outputs))
      continue;
    before_end_();
    const auto gone = extras_[i];
    if (!gone.lost && blocks(gone)) {
      trouble_ = "the output '" + gone.wish + "' did not answer and was opened again";
      trouble_until_ = Clock::now() + trouble_stays;
    }
    extras_.erase(extras_.begin() + static_cast<std::ptrdiff_t>(i));
    if (auto sender = conductor_.take(gone.sender))
      left_behind = end_sender(std::move(sender), gone.lost) || left_behind;
  }
  notice_.clear();
  for (const auto& wish : wanted) {
    if (find(wish) == nullptr &&
        (wish == "virtual" || midi::find_port(names_of(outputs), wish) >= 0))
      open(wish);
    if (find(wish) == nullptr)
      notice_ = "waiting for '" + wish + "'; until then its parts sound with the others";
  }
  route(routes);
  return left_behind;
}

bool ExtraOutputs::blocks(const Extra& extra) {
  return extra.sender->blocked_for(Clock::now()) > blocked_limit;
}

std::string ExtraOutputs::notice() const {
  return notice_.empty() && Clock::now() < trouble_until_ ? trouble_ : notice_;
}

bool ExtraOutputs::is_gone(const Extra& extra, const std::vector<midi::PortInfo>& outputs) {
  return extra.lost || extra.loose || blocks(extra) ||
         (!extra.port.empty() && !contains(names_of(outputs), extra.port));
}

void ExtraOutputs::open(const std::string& wish) {
  auto [output, port] = open_port_(wish);
  if (!output)
    return;
  Extra extra{wish, port.name, port.api};
  extra.routing = &lasting<midi::Latest<midi::Routing>>();
  auto silent = midi::straight_routing();
  for (auto& route : silent.routes)
    route.sends = false; // until route() says what is its own
  extra.routing->publish(silent);
  auto sender = std::make_unique<midi::Sender>(
      std::make_unique<midi::RoutedOutput>(std::move(output), *extra.routing),
      conductor_.transport_link());
  extra.sender = sender.get();
  extras_.push_back(extra);
  conductor_.add(std::move(sender));
}

void ExtraOutputs::route(const VoiceRoutes& routes) {
  const auto names = open();
  for (const auto& extra : extras_)
    if (const auto routing = routing_for(extra.wish, routes, names);
        !(routing == extra.routing->read()))
      extra.routing->publish(routing);
}

bool ExtraOutputs::close() {
  return tend({}, {});
}

bool ExtraOutputs::uses(std::string_view api) const {
  return std::any_of(extras_.begin(), extras_.end(),
                     [&](const Extra& extra) { return extra.api == api; });
}

void ExtraOutputs::lose(std::string_view api) {
  for (auto& extra : extras_)
    extra.lost = extra.lost || extra.api == api;
}

void ExtraOutputs::loosen(const std::vector<std::string>& names) {
  for (auto& extra : extras_)
    extra.loose = extra.loose || (!extra.port.empty() && contains(names, extra.port));
}

std::vector<std::string> ExtraOutputs::ports_of(std::string_view api) const {
  std::vector<std::string> ports;
  for (const auto& extra : extras_)
    if (extra.api == api && !extra.port.empty())
      ports.push_back(extra.port);
  return ports;
}

std::vector<std::string> ExtraOutputs::open() const {
  std::vector<std::string> wishes;
  for (const auto& extra : extras_)
    wishes.push_back(extra.wish);
  return wishes;
}

const ExtraOutputs::Extra* ExtraOutputs::find(const std::string& wish) const {
  const auto found = std::find_if(extras_.begin(), extras_.end(),
                                  [&](const Extra& extra) { return extra.wish == wish; });
  return found == extras_.end() ? nullptr : &*found;
}

midi::Sender* ExtraOutputs::sender_of(Voice voice, const VoiceRoutes& routes) const {
  const auto route = routes.find(voice);
  const auto* extra = route == routes.end() ? nullptr : find(route->second.port);
  return extra == nullptr ? nullptr : extra->sender;
}

std::string ExtraOutputs::words(const VoiceRoutes& routes) const {
  std::string words;
  for (const auto& extra : extras_) {
    std::string voices;
    for (const auto& [voice, route] : routes)
      if (route.port == extra.wish)
        voices += (voices.empty() ? "" : ", ") + std::string(voice_name(voice));
    words += " · " + voices + " by " + (extra.port.empty() ? "our port" : short_name(extra.port));
  }
  return words;
}

} // namespace landfall::app
