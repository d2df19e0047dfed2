#include "real/studio.hpp"

namespace landfall::real {
namespace {

/// A client for one question.
class Visitor {
public:
  Visitor() : client_(jack_client_open("visitor", JackNoStartServer, nullptr)) {}
  ~Visitor() {
    if (client_ != nullptr)
      jack_client_close(client_);
  }
  Visitor(const Visitor&) = delete;
  Visitor& operator=(const Visitor&) = delete;

  std::vector<std::string> ports(const std::string& pattern, unsigned long flags) const {
    std::vector<std::string> names;
    if (client_ == nullptr)
      return names;
    const char** found = jack_get_ports(client_, pattern.c_str(), nullptr, flags);
    for (const char** name = found; name != nullptr && *name != nullptr; ++name)
      names.emplace_back(*name);
    jack_free(found);
    return names;
  }

  int listeners(const std::string& port) const {
    jack_port_t* found = client_ == nullptr ? nullptr : jack_port_by_name(client_, port.c_str());
    if (found == nullptr)
      return 0;
    const char** others = jack_port_get_all_connections(client_, found);
    int count = 0;
    while (others != nullptr && others[count] != nullptr)
      ++count;
    jack_free(others);
    return count;
  }

  bool connect(const std::string& from, const std::string& to) const {
    return jack_connect(client_, from.c_str(), to.c_str()) == 0;
  }

private:
  jack_client_t* client_;
};

} // namespace

void say_why_not(const JackServer& server) {
  if (midi::test::is_installed("jackd"))
    FAIL(server.problem());
  else
    MESSAGE("skipped: " << server.problem());
}

void Studio::come_back() {
  client.reset();
  client = std::make_unique<JackClient>("studio");
  REQUIRE(client->running());
}

std::unique_ptr<Child> Studio::play_whole(const Command& command,
                                          const std::function<void(Child&)>& meanwhile) {
  auto timed = command;
  timed.emplace_back("--timing");
  for (int i = 0; i < performances; ++i) {
    come_back();
    auto play = program.start(timed);
    if (meanwhile)
      meanwhile(*play);
    CHECK(play->wait(std::chrono::seconds(20)) == 0);
    if (is_whole(*play))
      return play;
  }
  FAIL("no performance was whole");
  return nullptr;
}

bool is_whole(const Child& ended) {
  return ended.out().find("\"drops\":0,") != std::string::npos;
}

int connect(const std::string& from, const std::string& to) {
  const Visitor visitor;
  int connected = 0;
  for (const auto& source : visitor.ports(from, JackPortIsOutput))
    for (const auto& target : visitor.ports(to, JackPortIsInput))
      connected += visitor.connect(source, target) ? 1 : 0;
  return connected;
}

bool has_port(const std::string& pattern) {
  return !Visitor().ports(pattern, 0).empty();
}

int listeners(const std::string& port) {
  return Visitor().listeners(port);
}

} // namespace landfall::real
