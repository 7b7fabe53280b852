// Entries: what a notebook consists of. An entry is written once and never changed; a change is another entry.
//
// The id of an entry is the SHA-256 of its head and body (entry_text), so that an entry has the same id in every
// notebook, two notebooks are joined by taking all entries of both, and damage shows. `written` is the caller's clock and
// only informs: order within a document comes from `parent` and `generation`, whatever clocks do.
#pragma once

#include <cstdint>
#include <string>

namespace rollwright::notebook {

// One state of a document. A document is the set of versions that share `document`, each made from its `parent`.
struct Version {
  std::string id;
  std::string document;   // 128 random bits, the same for all versions
  std::string parent;     // the version this was made from; empty for the first
  std::string settles;    // another latest version that this one replaces as well, after two places had changed the document
  std::string restores;   // the version whose content this one brings back; empty for a fresh one
  std::int64_t generation = 0;  // parent's + 1
  bool removed = false;   // taken off the list; everything before stays
  std::string kind;       // "car/1"
  std::string name;
  std::string written;    // ISO 8601
  std::string text;       // as it was given, byte for byte
};

// That a raw log was received: a file may come twice, under two names.
struct Receipt {
  std::string id;
  std::string hash;      // of the file
  std::string document;  // the outing it belongs to, or empty
  std::string name;
  std::string written;
};

// An answer of the program, with what it was asked and by which build.
struct Result {
  std::string id;
  std::string operation;  // "forecast compare"
  std::string document;   // what it is about, or empty
  std::string build;
  std::string written;
  std::string request;    // JSON text
  std::string answer;     // JSON text
};

// "key: value" lines; together with the body this is what the id is taken of.
std::string head_of(const Version& version);
std::string head_of(const Receipt& receipt);
std::string head_of(const Result& result);
std::string id_of(const Version& version);
std::string id_of(const Receipt& receipt);
std::string id_of(const Result& result);

// The other way; throws Trouble "damaged" where a head is not one. Body and id are the caller's.
Version version_from(const std::string& head);
Receipt receipt_from(const std::string& head);
Result result_from(const std::string& head);

// A line of a head; empty where there is none.
std::string head_value(const std::string& head, const std::string& key);

// A number of a head; throws Trouble "damaged" where it is none.
std::int64_t head_number(const std::string& head, const std::string& key);

// Without line breaks and other control characters, no more than 200 bytes, never cut within a character.
std::string plain(std::string text);

}  // namespace rollwright::notebook
