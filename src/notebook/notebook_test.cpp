// The laws of a notebook: nothing that was put in is lost, whatever happens. All documents here are invented.
#include "notebook/notebook.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <set>

#include "notebook/notebook_for_test.h"

namespace rollwright::notebook {
namespace {

TEST(Notebook, ADocumentComesBackByteForByte) {
  Bench bench;
  const std::string text = "{\"kind\": \"car/1\",\t\"name\": \"Wren – 1,6\"}\r\n  ";
  const auto kept = bench.put("car/1", "Wren", text);
  EXPECT_EQ(bench.book->latest(kept.document)->text, text);
}

TEST(Notebook, EveryVersionStays) {
  Bench bench;
  auto kept = bench.put("car/1", "Wren", "one");
  for (const char* text : {"two", "three"}) kept = bench.put("car/1", "Wren", text, kept.document);
  const auto history = *bench.book->history(kept.document);
  ASSERT_EQ(history.size(), 3u);
  EXPECT_EQ(history[0].text, "one");
  EXPECT_EQ(history[2].text, "three");
}

TEST(Notebook, PuttingTheSameAgainAddsNothing) {
  Bench bench;
  const auto kept = bench.put("car/1", "Wren", "one");
  EXPECT_FALSE(bench.put("car/1", "Wren", "one", kept.document).is_new);
  EXPECT_EQ(bench.book->history(kept.document)->size(), 1u);
}

TEST(Notebook, UndoGoesBackOneStepEachTime) {
  Bench bench;
  auto kept = bench.put("car/1", "Wren", "one");
  for (const char* text : {"two", "three"}) kept = bench.put("car/1", "Wren", text, kept.document);
  ASSERT_TRUE(bench.book->undo(kept.document, kNow));
  EXPECT_EQ(bench.book->latest(kept.document)->text, "two");
  ASSERT_TRUE(bench.book->undo(kept.document, kNow));
  EXPECT_EQ(bench.book->latest(kept.document)->text, "one");
  EXPECT_EQ(bench.book->undo(kept.document, kNow).error()[0].code, "nothing_to_undo");
  EXPECT_EQ(bench.book->history(kept.document)->size(), 5u);
}

TEST(Notebook, WhatWasUndoneCanBeRestored) {
  Bench bench;
  const auto first = bench.put("car/1", "Wren", "one");
  const auto second = bench.put("car/1", "Wren", "two", first.document);
  ASSERT_TRUE(bench.book->undo(first.document, kNow));
  ASSERT_TRUE(bench.book->restore(first.document, second.version, kNow));
  EXPECT_EQ(bench.book->latest(first.document)->text, "two");
}

TEST(Notebook, ARemovedDocumentLeavesTheListAndComesBackByUndo) {
  Bench bench;
  const auto kept = bench.put("bar/1", "rear", "one");
  ASSERT_TRUE(bench.book->remove(kept.document, kNow));
  EXPECT_TRUE(bench.book->documents()->empty());
  EXPECT_EQ(bench.book->documents({}, true)->size(), 1u);
  ASSERT_TRUE(bench.book->undo(kept.document, kNow));
  EXPECT_EQ(bench.book->documents()->size(), 1u);
}

// Two pages, or a phone and a laptop, change the same version: both changes stay.
TEST(Notebook, ChangesFromTwoPlacesAreBothKeptAndCanBeSettled) {
  Bench bench;
  const auto first = bench.put("car/1", "Wren", "one");
  const auto laptop = *bench.book->put({first.document, first.version, "car/1", "Wren", "laptop", kNow});
  const auto phone = *bench.book->put({first.document, first.version, "car/1", "Wren", "phone", kNow});
  EXPECT_TRUE(phone.is_forked);
  EXPECT_EQ(bench.book->documents()->at(0).others, 1);
  ASSERT_TRUE(bench.book->restore(first.document, laptop.version, kNow));
  EXPECT_EQ(bench.book->documents()->at(0).others, 0);
  EXPECT_EQ(bench.book->latest(first.document)->text, "laptop");
  EXPECT_EQ(bench.book->history(first.document)->size(), 4u);
}

TEST(Notebook, SayingTheSameAgainAfterALostAnswerAddsNothing) {
  Bench bench;
  const std::string id(32, 'a');
  const NewVersion first{id, "", "car/1", "Wren", "one", kNow, "", true};
  const auto made = *bench.book->put(first);
  EXPECT_FALSE(bench.book->put(first)->is_new);
  const NewVersion second{id, made.version, "car/1", "Wren", "two", kNow};
  const auto kept = *bench.book->put(second);
  const auto again = *bench.book->put(second);
  EXPECT_FALSE(again.is_new);
  EXPECT_EQ(again.version, kept.version);
  EXPECT_EQ(bench.book->history(id)->size(), 2u);
}

TEST(Notebook, TwoPlacesThatMakeTheSameDocumentKeepBothAndOneCanTakeTheOtherIn) {
  Bench bench;
  const std::string id(32, 'b');
  const auto one = *bench.book->put({id, "", "car/1", "Wren", "one", kNow, "", true});
  const auto two = *bench.book->put({id, "", "car/1", "Wren", "two", kNow, "", true});
  EXPECT_TRUE(two.is_forked);
  EXPECT_EQ(bench.book->latest_versions_of(id)->size(), 2u);
  const auto both = *bench.book->put({id, two.version, "car/1", "Wren", "both", kNow, one.version});
  EXPECT_FALSE(both.is_forked);
  EXPECT_EQ(bench.book->latest(id)->text, "both");
  EXPECT_EQ(bench.book->history(id)->size(), 3u);
  EXPECT_TRUE(bench.book->check()->findings.empty());
  EXPECT_EQ(bench.book->put({std::string("short"), "", "car/1", "Wren", "one", kNow, "", true}).error()[0].code, "no_such_document");
}

TEST(Notebook, ADocumentMadeAgainAfterItWasTakenOffKeepsItsHistory) {
  Bench bench;
  const std::string id(32, 'c');
  ASSERT_TRUE(bench.book->put({id, "", "car/1", "Wren", "one", kNow, "", true}));
  ASSERT_TRUE(bench.book->remove(id, kNow));
  const auto again = *bench.book->put({id, "", "car/1", "Wren", "one", kNow, "", true});
  EXPECT_TRUE(again.is_new);
  EXPECT_FALSE(again.is_forked);
  EXPECT_EQ(bench.book->history(id)->size(), 3u);
  EXPECT_FALSE(bench.book->latest(id)->removed);
}

TEST(Notebook, WhatArrivedAfterAPositionIsListedAlone) {
  Bench bench;
  const auto wren = bench.put("car/1", "Wren", "one");
  const auto then = *bench.book->position();
  EXPECT_TRUE(bench.book->documents("", true, then)->empty());
  bench.put("car/1", "Bittern", "one");
  bench.put("car/1", "Wren", "two", wren.document);
  ASSERT_EQ(bench.book->documents("", true, then)->size(), 2u);
  EXPECT_EQ(bench.book->documents("", true, *bench.book->position())->size(), 0u);
}

TEST(Notebook, AClockThatGoesBackwardsChangesNoOrder) {
  Bench bench;
  const auto first = *bench.book->put({"", "", "car/1", "Wren", "one", "2030-01-01T00:00:00Z"});
  const auto second = *bench.book->put({first.document, "", "car/1", "Wren", "two", "1970-01-01T00:00:00Z"});
  EXPECT_TRUE(second.clock_is_behind);
  EXPECT_EQ(bench.book->latest(first.document)->text, "two");
  ASSERT_TRUE(bench.book->undo(first.document, "1969-01-01T00:00:00Z"));
  EXPECT_EQ(bench.book->latest(first.document)->text, "one");
}

TEST(Notebook, ALogComesBackAsReceivedAndIsKeptOnce) {
  Bench bench;
  const std::string bytes = noise(3'500'000);  // more than three frames
  const auto source = base::text_source("run 1.csv", bytes);
  const auto line = bench.book->put_log(*source, "", kNow);
  ASSERT_TRUE(line);
  ASSERT_TRUE(bench.book->put_log(*source, "", "2026-05-02T00:00:00Z"));
  EXPECT_EQ(bench.book->logs()->size(), 1u);
  ASSERT_TRUE(bench.book->put_log(*base::text_source("copy of run 1.csv", bytes), "", kNow));
  EXPECT_EQ(bench.book->logs()->size(), 2u);  // two receipts of one file
  EXPECT_EQ(bench.book->check()->counts.logs, 1);
  std::string back;
  ASSERT_TRUE(bench.book->read_log(line->hash, [&](std::string_view part) { return back += part, true; }));
  EXPECT_TRUE(back == bytes);
}

TEST(Notebook, AResultKeepsRequestAndBuild) {
  Bench bench;
  const auto id = bench.book->put_result({"", "bar rate", "", "abc123", kNow, "{\"bar\": 1}", "{\"result\": 2}"});
  ASSERT_TRUE(id);
  const auto result = *bench.book->result(*id);
  EXPECT_EQ(result.build, "abc123");
  EXPECT_EQ(result.request, "{\"bar\": 1}");
  EXPECT_EQ(result.answer, "{\"result\": 2}");
}

TEST(Notebook, ADocumentIsFoundByNameAndByTheStartOfItsId) {
  Bench bench;
  const auto kept = bench.put("car/1", "Wren", "one");
  EXPECT_EQ(*bench.book->find_document("Wren"), kept.document);
  EXPECT_EQ(*bench.book->find_document(kept.document.substr(0, 6)), kept.document);
  bench.put("bar/1", "Wren", "another");
  EXPECT_EQ(bench.book->find_document("Wren").error()[0].code, "ambiguous");
  EXPECT_EQ(bench.book->find_document("Bittern").error()[0].code, "no_such_document");
}

TEST(Notebook, AnExportComesBackByteForByte) {
  Bench one, two;
  one.fill();
  const auto first = one.exported();
  ASSERT_TRUE(two.book->import_from(*base::text_source("a.tar", first)));
  EXPECT_TRUE(two.exported() == first);
  EXPECT_TRUE(two.book->check()->findings.empty());
}

TEST(Notebook, ImportingTwiceChangesNothing) {
  Bench one, two;
  one.fill();
  const auto file = base::text_source("a.tar", one.exported());
  ASSERT_TRUE(two.book->import_from(*file));
  const auto again = two.book->import_from(*file);
  ASSERT_TRUE(again);
  EXPECT_EQ(again->added.all(), 0);
  EXPECT_EQ(again->known.all(), one.book->check()->counts.all());
  EXPECT_TRUE(two.exported() == one.exported());
}

// Joining is taking all entries of both, so the order does not matter and nothing is lost.
TEST(Notebook, MergingIsTheSameBothWaysAndLosesNothing) {
  Bench base_book, phone, laptop;
  base_book.fill();
  const auto start = base::text_source("start.tar", base_book.exported());
  ASSERT_TRUE(phone.book->import_from(*start));
  ASSERT_TRUE(laptop.book->import_from(*start));
  const auto car = *phone.book->find_document("Wren");
  phone.put("car/1", "Wren", "changed at the car", car);
  laptop.put("car/1", "Wren", "changed on the bench", car);
  laptop.put("bar/1", "new bar", "bar");
  const auto from_laptop = base::text_source("l.tar", laptop.exported()), from_phone = base::text_source("p.tar", phone.exported());
  const auto merged = phone.book->import_from(*from_laptop);
  ASSERT_TRUE(merged);
  EXPECT_EQ(merged->forks, 1);
  ASSERT_TRUE(laptop.book->merge(phone.path()));
  EXPECT_TRUE(phone.exported() == laptop.exported());
  std::set<std::string> texts;
  const auto history = *phone.book->history(car);
  for (const auto& v : history) texts.insert(v.text);
  EXPECT_TRUE(texts.count("changed at the car") == 1 && texts.count("changed on the bench") == 1);
  EXPECT_EQ(phone.book->latest(car)->id, laptop.book->latest(car)->id);
}

TEST(Notebook, ADamagedExportIsRefusedAndChangesNothing) {
  Bench one;
  one.fill();
  const std::string good = one.exported();
  for (std::size_t at = 0; at < good.size(); at += 997) {  // a prime, so that every kind of place is hit
    Bench two;
    std::string bad = good;
    bad[at] = static_cast<char>(bad[at] ^ 0x20);
    const auto merged = two.book->import_from(*base::text_source("bad.tar", bad));
    // Bytes that fill up a block carry nothing; every other change must be seen.
    if (merged) {
      EXPECT_TRUE(two.exported() == good) << at;
    } else {
      EXPECT_EQ(two.book->check()->counts.all(), 0) << at;
    }
    const auto cut = two.book->import_from(*base::text_source("cut.tar", good.substr(0, at)));
    EXPECT_TRUE(merged || !cut) << at;
  }
}

TEST(Notebook, AnExportIsATarArchiveAndItsLogsAreOrdinaryPackedFiles) {
  Bench one;
  one.fill();
  const auto folder = std::filesystem::path(one.path()).parent_path();
  one.save(folder / "a.tar");
  if (std::system("command -v tar >/dev/null") != 0) {
    std::puts("not run: no tar here");
    return;
  }
  const std::string there = "cd '" + folder.string() + "' && ";
  ASSERT_EQ(std::system((there + "tar xf a.tar").c_str()), 0);
  // The ids are what the ordinary tool says of head and body together.
  const auto history = one.book->history(*one.book->find_document("Wren"));
  ASSERT_TRUE(history);
  for (const auto& v : *history) {
    EXPECT_EQ(std::system((there + "cat documents/" + v.id + ".head documents/" + v.id + ".json | sha256sum | grep -q " + v.id).c_str()), 0);
  }
  EXPECT_TRUE(std::filesystem::exists(folder / "rollwright-notebook.txt"));
}

}  // namespace
}  // namespace rollwright::notebook
