// SPDX-License-Identifier: MIT
#include "cli/command.h"

#include <nlohmann/json.hpp>
#include <ostream>

#include "base/text.h"

namespace kithue {

ExitStatus status_of(ErrorKind kind) noexcept {
  switch (kind) {
    case ErrorKind::bad_usage:
      return ExitStatus::wrong_usage;
    case ErrorKind::bad_input:
      return ExitStatus::bad_input;
    case ErrorKind::not_found:
    case ErrorKind::ambiguous:
      return ExitStatus::not_found;
    case ErrorKind::cannot_read:
    case ErrorKind::cannot_write:
      return ExitStatus::cannot_read_write;
    case ErrorKind::busy:
      return ExitStatus::busy;
    case ErrorKind::damaged:
    case ErrorKind::too_new:
      return ExitStatus::damaged;
    case ErrorKind::impossible:
      return ExitStatus::impossible;
    case ErrorKind::internal:
      return ExitStatus::our_fault;
  }
  return ExitStatus::our_fault;
}

std::string_view code_of(ErrorKind kind) noexcept {
  switch (kind) {
    case ErrorKind::bad_usage:
      return "bad_usage";
    case ErrorKind::bad_input:
      return "bad_input";
    case ErrorKind::not_found:
      return "not_found";
    case ErrorKind::ambiguous:
      return "ambiguous";
    case ErrorKind::cannot_read:
      return "cannot_read";
    case ErrorKind::cannot_write:
      return "cannot_write";
    case ErrorKind::busy:
      return "busy";
    case ErrorKind::damaged:
      return "damaged";
    case ErrorKind::too_new:
      return "too_new";
    case ErrorKind::impossible:
      return "impossible";
    case ErrorKind::internal:
      return "internal";
  }
  return "internal";
}

namespace {

void print_json(std::ostream& out, const nlohmann::ordered_json& object) {
  // `replace`: a stray byte in a file name must not turn an answer into an exception.
  out << json_printable(object.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace)) << '\n';
}

}  // namespace

void warn(Session& session, const std::string& line) {
  session.err << "kithue: warning: " << printable(line) << '\n';
  session.warnings.push_back(line);
}

void hint(Session& session, const std::string& line) {
  if (session.quiet || session.mode != Mode::text) return;
  session.err << printable(line) << '\n';
}

ExitStatus fail(Session& session, const Error& error) {
  session.err << "kithue: " << printable(describe(error)) << '\n';
  if (session.mode == Mode::json) {
    nlohmann::ordered_json what;
    what["code"] = code_of(error.kind);
    what["message"] = error.what;
    if (!error.advice.empty()) what["advice"] = error.advice;
    what["where"] = error.where.empty() ? nlohmann::ordered_json() : nlohmann::ordered_json(error.where);
    print_json(session.out, {{"schema", 1}, {"error", what}});
  }
  return status_of(error.kind);
}

ExitStatus answer(Session& session, std::string_view command, const nlohmann::ordered_json& data) {
  print_json(session.out,
             {{"schema", 1}, {"command", command}, {"data", data}, {"warnings", session.warnings}});
  return ExitStatus::done;
}

}  // namespace kithue
