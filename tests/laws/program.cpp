// The program as a black box: exit codes, what is written and what is left alone.
#include "laws/row.h"
#include "laws/run_program.h"

using namespace plan;

TEST_CASE("a plan without findings ends with 0, says so, and is silent on standard error") {
  const Scratch scratch;
  scratch.write("row.yaml", row);
  const Ended e = run_program(scratch, {"plan", "row.yaml", "--out", "plans/row"});
  CHECK(e.code == 0);
  CHECK(e.error == "");
  CHECK(e.output.starts_with("no findings"));
  CHECK(e.output.find("written to plans/row") != std::string::npos);
  CHECK(scratch.names() == Names{"plans", "row.yaml"});
  const FolderTexts folder = scratch.folder("plans/row");
  CHECK(e.output.starts_with(folder.at("summary.txt")));
  // What the library writes, and the two files that only the disk knows.
  FolderTexts expected = written(planned(FolderTexts{{"scenario.yaml", std::string(row)}}));
  CHECK(difference(tables(expected), tables(folder)) == "");
  CHECK(folder.size() == expected.size() + 2);
}

TEST_CASE("contents.csv lists every file with its bytes and hash") {
  const Scratch scratch;
  scratch.write("row.yaml", row);
  REQUIRE(run_program(scratch, {"plan", "row.yaml", "--out", "plan"}).code == 0);
  FolderTexts folder = scratch.folder("plan");
  const std::vector<Names> contents = rows_of(folder.at("contents.csv"));
  folder.erase("contents.csv");
  REQUIRE(contents.size() == folder.size() + 1);
  for (size_t k = 1; k < contents.size(); ++k) {
    const std::string& text = folder.at(contents[k][0]);
    CHECK(contents[k][1] == std::to_string(text.size()));
    CHECK(contents[k][2] == hex16(hash64(text)));
  }
}

TEST_CASE("a plan with findings ends with 1 and is written all the same") {
  const Scratch scratch;
  scratch.write("row.yaml", row_with("optics: {margin: 15 dB}\n"));
  const Ended e = run_program(scratch, {"plan", "row.yaml", "--out", "plan"});
  CHECK(e.code == 1);
  CHECK(e.error == "");
  CHECK(e.output.find(" findings (") < e.output.find('\n'));
  CHECK(rows_of(scratch.read("plan/findings.csv")).size() > 1);
  CHECK(run_program(scratch, {"check", "--plan", "plan"}).code == 0);
}

TEST_CASE("a bad scenario ends with 2, all faults at their places, and nothing is written") {
  const Scratch scratch;
  scratch.write("row.yaml", row_with("optics: {margin: 15 bar}\nducts: {spare chare: 10 %}\n"));
  const Ended e = run_program(scratch, {"plan", "row.yaml", "--out", "plan"});
  CHECK(e.code == 2);
  CHECK(e.output == "");
  CHECK(e.error.find("row.yaml:14:18: ") != std::string::npos);
  CHECK(e.error.find("row.yaml:15:9: unknown key 'spare chare', did you mean 'spare share'\n") !=
        std::string::npos);
  CHECK(e.error.ends_with("2 faults; nothing was written\n"));
  CHECK(scratch.names() == Names{"row.yaml"});
  for (const char* command : {"whatif", "check"}) {
    Names words{command, "row.yaml"};
    if (words[0] == "whatif") words.insert(words.end(), {"--out", "plan"});
    CHECK(run_program(scratch, words).code == 2);
    CHECK(scratch.names() == Names{"row.yaml"});
  }
}

TEST_CASE("a scenario that is not there ends with 2") {
  const Scratch scratch;
  const Ended e = run_program(scratch, {"plan", "row.yaml", "--out", "plan"});
  CHECK(e.code == 2);
  CHECK(e.error == "row.yaml: file not found\n1 fault; nothing was written\n");
  CHECK(scratch.names().empty());
}

TEST_CASE("a call that lacks something or says too much ends with 2") {
  const Scratch scratch;
  scratch.write("row.yaml", row);
  for (const Names& words : {Names{},
                             {"plan"},
                             {"plan", "row.yaml"},
                             {"plan", "--out", "plan"},
                             {"check"},
                             {"frob"},
                             {"whatif", "row.yaml"},
                             {"plan", "row.yaml", "--out", "plan", "--threads", "0"},
                             {"plan", "row.yaml", "--out", "plan", "--swift"},
                             {"check", "row.yaml", "--plan", "plan"},
                             {"schema", "--page", "none"},
                             {"invent", "--out", "town"},
                             {"invent", "--premises", "5", "--out", "town"},
                             {"explain"},
                             {"sheets", "plan"}}) {
    const Ended e = run_program(scratch, words);
    CAPTURE(words);
    CHECK(e.code == 2);
    CHECK(e.output == "");
    CHECK(e.error != "");
  }
  CHECK(scratch.names() == Names{"row.yaml"});
  const Ended help = run_program(scratch, {"--help"});
  CHECK(help.code == 0);
  CHECK(help.error == "");
  for (const char* command : {"plan", "check", "explain", "whatif", "sheets", "schema", "invent"})
    CHECK(help.output.find(command) != std::string::npos);
}

TEST_CASE("a folder that is not Withy's is refused with 3 and left alone") {
  const Scratch scratch;
  scratch.write("row.yaml", row_with(edits));
  scratch.write("mine/letter.txt", "dear reader");
  scratch.write("file", "x");
  for (const Names& words :
       {Names{"plan", "row.yaml", "--out", "mine"},
        {"whatif", "row.yaml", "--out", "mine"},
        {"invent", "--premises", "20", "--out", "mine"},
        {"plan", "row.yaml", "--out", "file"},
        {"plan", "row.yaml", "--out", "file/plan"},
        {"check", "--plan", "mine"},
        {"explain", "mine", "link 1"},
        {"sheets", "mine", "--from", "2027-03-01", "--to", "2027-03-05", "--out", "sheets"}}) {
    const Ended e = run_program(scratch, words);
    CAPTURE(words);
    CHECK(e.code == 3);
    CHECK(e.error.starts_with("withy: "));
    CHECK(e.output == "");
  }
  CHECK(scratch.folder("mine") == FolderTexts{{"letter.txt", "dear reader"}});
  CHECK(scratch.read("file") == "x");
  CHECK(scratch.names() == Names{"file", "mine", "row.yaml"});
}

TEST_CASE("a plan folder is replaced as a whole, or stays as it was") {
  const Scratch scratch;
  scratch.write("row.yaml", row);
  REQUIRE(run_program(scratch, {"plan", "row.yaml", "--out", "plan"}).code == 0);
  const FolderTexts first = scratch.folder("plan");

  scratch.write("bad.yaml", row_with("frob: 1\n"));
  CHECK(run_program(scratch, {"plan", "bad.yaml", "--out", "plan"}).code == 2);
  CHECK(scratch.folder("plan") == first);

  // Another start: other weeks, so other sheets; none of the old ones stays behind.
  std::string later(row);
  later.replace(later.find("2027-03-01"), 10, "2028-06-05");
  scratch.write("later.yaml", later);
  CHECK(run_program(scratch, {"plan", "later.yaml", "--out", "plan/"}).code == 0);
  const FolderTexts second = scratch.folder("plan");
  CHECK(second != first);
  for (const auto& [name, text] : second) CHECK(name.find("2027-W") == std::string::npos);
  CHECK(scratch.names() == Names{"bad.yaml", "later.yaml", "plan", "row.yaml"});

  CHECK(run_program(scratch, {"plan", "row.yaml", "--out", "plan"}).code == 0);
  CHECK(scratch.folder("plan") == first);
}

TEST_CASE("two runs and any number of threads write the same bytes") {
  const Scratch scratch;
  for (const auto& [name, text] : invented(150, 3)) scratch.write(name, text);
  FolderTexts first;
  for (const char* threads : {"1", "2", "7"}) {
    const Ended e = run_program(scratch, {"plan", "scenario.yaml", "--out", "plan", "--threads", threads});
    CHECK(e.code <= 1);
    const FolderTexts folder = scratch.folder("plan");
    if (first.empty()) first = folder;
    CHECK(difference(first, folder) == "");
  }
}

TEST_CASE("an interrupted run ends with 3 and leaves no trace") {
  const Scratch scratch;
  REQUIRE(run_program(scratch, {"invent", "--premises", "3000", "--seed", "1", "--out", "town"}).code == 0);
  for (const char* command : {"plan", "whatif"}) {
    const Ended e = interrupt_program(scratch, {command, "town/scenario.yaml", "--out", "plan"});
    CHECK(e.code == 3);
    CHECK(e.error == "withy: interrupted; nothing was written\n");
    CHECK(scratch.names() == Names{"town"});
  }
}
