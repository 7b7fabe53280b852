#include "cli/man_page.h"

#include "api/words.h"
#include "cli/help.h"
#include "ops/operation.h"

namespace rollwright::cli {
namespace {

using base::Kind;

const base::Type& bottom(const base::Type& type) {
  return type.kind == Kind::optional || type.kind == Kind::list || type.kind == Kind::tuple ? bottom(type.element()) : type;
}

// Text as roff: no character of it is taken for a command, and a hyphen stays the one that is typed.
std::string roff(const std::string& text) {
  std::string out;
  bool at_start = true;
  for (const char c : text) {
    if (at_start && (c == '.' || c == '\'')) out += "\\&";
    if (c == '\\') out += "\\e";
    else if (c == '-') out += "\\-";
    else out += c;
    at_start = c == '\n';
  }
  return out;
}

std::string tagged(const std::string& tag, const std::string& text) { return ".TP\n\\fB" + roff(tag) + "\\fR\n" + roff(text) + "\n"; }

std::string options_of(const ops::Operation& op) {
  std::string out;
  for (const auto& f : op.request->fields) {
    const auto& type = bottom(f.type());
    std::string text = f.help;
    if (f.is_required) text += " Needed.";
    if (const auto range = api::range_in_words(f); !range.empty()) text += " Allowed: " + range + ".";
    if (type.kind == Kind::choice) text += " One of: " + api::choices_in_words(type) + ".";
    if (has_flag(f)) {
      out += tagged(flag(f), text);
    } else {
      out += tagged(f.key + (type.document.empty() ? " (in the request)" : " (a document, " + type.document + ")"), text);
    }
  }
  return out;
}

}  // namespace

std::string man_page(const std::vector<ExtraCommand>& extra, const std::string& version) {
  std::string out = ".TH ROLLWRIGHT 1 \"\" \"rollwright " + version + "\" \"User commands\"\n"
                    ".SH NAME\nrollwright \\- what an anti\\-roll bar, spring or tyre will do to your car, before and after\n"
                    ".SH SYNOPSIS\n.B rollwright\n.I group question\n[\\fIdocuments\\fR] [\\fIoptions\\fR]\n"
                    ".SH DESCRIPTION\n" +
                    roff("Describe a road car with the doubt of every number, work out what its bars give, forecast what a change will do, fit it neutral and "
                         "safe, test it with a phone on closed private ground, and learn what it really did.") +
                    "\n.PP\n" +
                    roff("Documents are JSON files; their schemas and every field stand in /usr/share/doc/rollwright/reference.md.") +
                    "\n.SH OPTIONS OF EVERY QUESTION\n" +
                    tagged("--json", "The answer as the server gives it.") + tagged("--units metric|imperial", "Units of the printed answer.") +
                    tagged("--request FILE", "A whole request to start from.") + tagged("--set key=value", "One value anywhere in the request.") +
                    tagged("--html FILE", "A page that prints.") + tagged("--pdf FILE", "The same page as PDF, by weasyprint or chromium.") + tagged("--out FOLDER", "Where files that an answer brings are written.") +
                    tagged("--notebook FILE", "The notebook; otherwise rollwright.garage here, or in your data folder.") +
                    tagged("--keep", "Keep the answer in the notebook.") + tagged("--help", "Help of one question.") + ".SH QUESTIONS\n";
  for (const auto& op : ops::all_operations()) {
    out += ".SS " + roff(op.id()) + "\n" + roff(op.question) + "\n";
    if (!op.help.empty()) out += ".PP\n" + roff(op.help) + "\n";
    out += options_of(op);
    if (!op.example.empty()) out += ".PP\nExample, in the examples folder: " + roff("rollwright " + op.example) + "\n";
  }
  out += ".SH OTHER COMMANDS\n";
  for (const auto& command : extra) out += tagged(command.name, command.question);
  out += tagged("version", "Which program this is.") + tagged("help", "All questions; 'help bar rate' for one.");
  out += ".SH EXIT STATUS\n" + tagged("0", "Answered.") + tagged("2", "Something in your input.") + tagged("3", "No answer exists, for instance because the data cannot tell.") +
         tagged("4", "The environment: a file, the disk, a port.") + tagged("70", "A mistake of the program.");
  out += ".SH CAUTIONS\n" +
         roff("Work on stands, never under a car held by a jack. Torque to the maker's figures and check again after the first drive. Never test on a public road. "
              "The maker's manual and your local rules win.") +
         "\n.SH FILES\n" + tagged("/usr/share/doc/rollwright/examples", "Invented cars, bars and readings.") +
         tagged("~/.local/share/rollwright/rollwright.garage", "The usual notebook.");
  return out;
}

std::string bash_completion(const std::vector<ExtraCommand>& extra) {
  std::string first, groups, cases;
  std::string group;
  for (const auto& op : ops::all_operations()) {
    if (op.group.empty()) {
      first += op.verb + " ";
    } else if (op.group != group) {
      first += op.group + " ";
      groups += (group.empty() ? "" : "\" ;;\n") + std::string("    ") + op.group + ") verbs=\"" + op.verb;
    } else {
      groups += " " + op.verb;
    }
    if (!op.group.empty()) group = op.group;
    std::string flags, choices;
    for (const auto& f : op.request->fields) {
      const auto& type = bottom(f.type());
      if (!has_flag(f) && type.document.empty()) continue;
      flags += flag(f) + " ";
      if (type.kind != Kind::choice) continue;
      std::string names;
      for (const auto& name : type.names) names += name + " ";
      choices += "        " + flag(f) + ") words=\"" + names + "\" ;;\n";
    }
    cases += "    \"" + op.id() + "\")\n      flags=\"" + flags + "\"\n";
    if (!choices.empty()) cases += "      case \"$before\" in\n" + choices + "      esac\n";
    cases += "      ;;\n";
  }
  groups += "\" ;;\n";
  for (const auto& command : extra) first += command.name + " ";
  first += "help version";
  return "# Completion of rollwright for bash. Generated by 'rollwright generate completion'.\n"
         "_rollwright() {\n"
         "  local word=\"${COMP_WORDS[COMP_CWORD]}\" before=\"${COMP_WORDS[COMP_CWORD-1]}\"\n"
         "  local first=\"${COMP_WORDS[1]:-}\" second=\"${COMP_WORDS[2]:-}\" verbs=\"\" flags=\"\" words=\"\" id\n"
         "  if [ \"$COMP_CWORD\" = 1 ]; then mapfile -t COMPREPLY < <(compgen -W \"" + first + "\" -- \"$word\"); return; fi\n"
         "  case \"$first\" in\n" + groups + "  esac\n"
         "  if [ \"$COMP_CWORD\" = 2 ] && [ -n \"$verbs\" ]; then mapfile -t COMPREPLY < <(compgen -W \"$verbs\" -- \"$word\"); return; fi\n"
         "  id=\"$first\"; [ -n \"$verbs\" ] && id=\"$first $second\"\n"
         "  case \"$id\" in\n" + cases + "  esac\n"
         "  [ \"$before\" = --units ] && words=\"metric imperial\"\n"
         "  if [ -n \"$words\" ]; then mapfile -t COMPREPLY < <(compgen -W \"$words\" -- \"$word\"); return; fi\n"
         "  case \"$word\" in\n"
         "    -*) mapfile -t COMPREPLY < <(compgen -W \"$flags--json --units --request --set --html --pdf --out --notebook --keep --help\" -- \"$word\") ;;\n"
         "    *) mapfile -t COMPREPLY < <(compgen -f -- \"$word\") ;;\n"
         "  esac\n"
         "}\n"
         "complete -o filenames -F _rollwright rollwright\n";
}

}  // namespace rollwright::cli
