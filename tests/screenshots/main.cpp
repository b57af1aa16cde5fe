// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Writes a picture of every screen of the demo program into a folder. Not a test: a person looks at them.
// markerlamp_screenshots DIR [PALETTE...]. From the environment:
//   MARKERLAMP_SHOT_SIZE=683x384            size of the window
//   MARKERLAMP_SHOT_DAY=2026-03-16          day on which the demo is made, where two sets are to be compared
//   MARKERLAMP_SHOT_SCALE=1.35              everything larger, as a screen with other millimetres shows it
//   MARKERLAMP_SHOT_LONGER=1                every text a third longer, as a translation may be
//   MARKERLAMP_SHOT_PART=coordinator        or instructor or access: only these screens

#include "../support/longer_language.h"
#include "shots.h"

#include "app/access/accounts_dialog.h"
#include "app/access/cover.h"
#include "app/access/own_passphrase_dialog.h"
#include "app/access/recovery_dialog.h"
#include "app/agreement/agreement_model.h"
#include "app/copies/copies_dialog.h"
#include "app/debrief/debrief_page.h"
#include "app/exports/export_dialog.h"
#include "app/people/person_dialog.h"
#include "app/program/program_page.h"
#include "app/readiness/readiness_blocks.h"
#include "app/readiness/readiness_desk.h"
#include "app/rubrics/draft_keeping.h"
#include "app/rubrics/editor_page.h"
#include "app/rubrics/effect_block.h"
#include "app/rubrics/rule_drawing.h"
#include "app/rubrics/step_form.h"
#include "app/rubrics/step_tree.h"
#include "app/scoring/scoring_model.h"
#include "app/scoring/scoring_page.h"
#include "app/settings/settings.h"
#include "app/shell/main_window.h"
#include "app/shell/session.h"
#include "app/start/start_page.h"
#include "app/support/block_tabs.h"
#include "app/support/display.h"
#include "app/support/folders.h"
#include "app/support/theme.h"
#include "app/support/translations.h"
#include "app/trail/trail_page.h"
#include "app/trainees/trainee_page.h"
#include "forms/style/fonts.h"

#include <QElapsedTimer>
#include <QPushButton>
#include <QStyleFactory>
#include <QTemporaryDir>

#include <optional>

namespace {

using namespace markerlamp;
using testing::PageId;
using testing::Shots;

/// The trainee with the most attempts on file.
QString busiestTrainee(app::Session& session) {
    std::map<std::string, int> counts;
    if (const auto attempts = session.file().attempts())
        for (const auto& info : *attempts) ++counts[info.trainee];
    std::string best;
    for (const auto& [key, count] : counts)
        if (best.empty() || count > counts[best]) best = key;
    return app::qs(best);
}

/// An attempt in the middle: lamps in every state, the readings of the brakes, and the settle pass.
void shootScoring(Shots& shots, app::MainWindow& window, const QString& trainee) {
    auto* start = window.findChild<app::StartPage*>();
    auto* page = window.findChild<app::ScoringPage*>();
    start->chooseTrainee(trainee);
    QTest::keyClick(start, Qt::Key_Return, Qt::ControlModifier);
    QTest::qWait(50);
    if (!page->isActive()) return;
    app::ScoringModel& model = *page->model();
    const auto key = [page](Qt::Key code, Qt::KeyboardModifiers modifiers = {}) {
        QTest::qWait(125);  // slower than a bouncing key
        QTest::keyClick(page, code, modifiers);
    };
    for (int zone = 0; zone < 4; ++zone)
        for (int i = model.zones()[static_cast<std::size_t>(zone)].first,
                 left = model.zones()[static_cast<std::size_t>(zone)].count;
             left > 2; --left, ++i)
            model.outcomeOn(i, left % 5 == 0 ? core::Outcome::Partly : core::Outcome::Both);
    model.goToZone(4);
    key(Qt::Key_Space);
    key(Qt::Key_2);
    key(Qt::Key_L);
    key(Qt::Key_U);
    key(Qt::Key_O);
    key(Qt::Key_P);
    key(Qt::Key_Space);
    key(Qt::Key_J);
    key(Qt::Key_M);
    key(Qt::Key_Space);
    shots.grab(window, QStringLiteral("scoring"));
    for (std::size_t zone = 0; zone < model.zones().size(); ++zone)
        if (model.zones()[zone].id == "air-brakes") model.goToZone(static_cast<int>(zone));
    key(Qt::Key_Space);
    shots.grab(window, QStringLiteral("scoring-brakes"));
    key(Qt::Key_F9);
    shots.grab(window, QStringLiteral("scoring-cover"));
    key(Qt::Key_F9);
    key(Qt::Key_Slash);
    shots.grab(window, QStringLiteral("scoring-find"));
    key(Qt::Key_Escape);
    key(Qt::Key_Return, Qt::ControlModifier);
    shots.grab(window, QStringLiteral("settle"));
    key(Qt::Key_Return);
    QTest::qWait(100);
}

/// The forecast and the drill are worked out in the background; pictures are of what people look at.
void waitForReadiness(app::MainWindow& window, app::TraineePage& page) {
    window.showPage(PageId::Trainee);
    QElapsedTimer timer;
    timer.start();
    while (timer.elapsed() < 120'000 &&
           (!window.readiness()->idle() ||
            (window.readiness()->of(page.trainee()).answer.planner && !page.readiness().drill().view())))
        QTest::qWait(20);
}

void shootReadinessDialogs(Shots& shots, app::ReadinessBlocks& blocks) {
    shots.modal([&] { blocks.overrideWord(); }, QStringLiteral("own-word"));
    shots.modal([&] { blocks.drill().edit(); }, QStringLiteral("drill-edit"));
}

/// The next edition of a rubric with some changes: a step, a zone, the whole; then rules that go in a circle.
void shootEditor(Shots& shots, app::MainWindow& window) {
    window.action(QStringLiteral("edition.edit"))->trigger();
    auto* editor = window.findChild<app::EditorPage*>();
    if (!editor->isOpen()) return;
    auto* tree = editor->findChild<app::StepTree*>();
    app::Draft& draft = *editor->draft();
    const QString zone = QStringLiteral("air-brakes"), step = QStringLiteral("applied-leak");
    const QString added = draft.addStep(zone, QStringLiteral("Air hoses"), step);
    draft.change(QStringLiteral("changes"), {}, [&](core::Rubric& rubric) {
        core::findStep(rubric, app::ss(added))->show = "Hoses between frame and axle";
        core::findStep(rubric, "static-leak")->weight = 5;
        core::findStep(rubric, "horn")->title = "Horn, both tones";
        for (core::Limit& limit : rubric.limits)
            if (limit.id == "low-warning") limit.low = 55;
    });
    tree->select(zone, step);
    if (!QTest::qWaitFor([editor] { return editor->effect().effect() != nullptr; }, 120'000))
        std::fprintf(stderr, "the effect of the edition was not ready in time\n");
    shots.grab(window, QStringLiteral("editor"));
    tree->select({}, {});
    shots.grab(window, QStringLiteral("editor-whole"));
    tree->select(zone, step);
    shots.dialog(QStringLiteral("edition.publish"), QStringLiteral("editor-put-in-use"));
    shots.dialog(QStringLiteral("edition.preview"), QStringLiteral("editor-scoring-preview"));
    shots.dialog(QStringLiteral("view.data"), QStringLiteral("editor-tables"));
    auto* rules = editor->findChild<app::RuleDrawing*>();
    QApplication::setActiveWindow(&window);
    rules->setFocus();
    shots.dialog(QStringLiteral("edit.edit"), QStringLiteral("editor-rule"));
    QApplication::setActiveWindow(&window);
    editor->findChild<app::StepForm*>()->pointsTable()->setFocus();
    shots.dialog(QStringLiteral("edit.edit"), QStringLiteral("editor-point"));
    core::OrderRule back;
    back.chain = {"spring-brakes", "cut-out"};
    draft.addRule(back);
    QTest::qWait(400);
    shots.grab(window, QStringLiteral("editor-circle"));
    const std::string id = draft.rubric().id;
    window.action(QStringLiteral("edition.leave"))->trigger();
    // The next palette begins with the same demo.
    if (auto done = app::forgetDraft(window.session()->file(), id); !done)
        std::fprintf(stderr, "%s\n", done.error().message.c_str());
}

void shootProgram(Shots& shots, app::MainWindow& window) {
    window.showPage(PageId::Program);
    auto& page = *window.findChild<app::ProgramPage*>();
    QElapsedTimer timer;
    timer.start();
    while (timer.elapsed() < 240'000 &&
           (page.view() == nullptr || page.view()->known() < page.view()->inTraining()))
        QTest::qWait(50);
    QTest::qWait(800);
    shots.page(PageId::Program, QStringLiteral("program"));
    auto* tabs = page.findChild<app::BlockTabs*>();
    tabs->show(1);
    QTest::qWait(4000);
    shots.grab(window, QStringLiteral("program-group"));
    tabs->show(2);
    shots.grab(window, QStringLiteral("program-weeks"));
    tabs->show(0);
    shots.dialog(QStringLiteral("program.limits"), QStringLiteral("limits"));
}

/// Presses the button or link with these words.
void press(QWidget& in, const char* words) {
    for (auto* button : in.findChildren<QPushButton*>())
        if (button->isVisible() && button->text().remove(QLatin1Char('&')).startsWith(QLatin1String(words)))
            return button->click();
    std::fprintf(stderr, "there is no \"%s\" to press\n", words);
}

/// What is on file of a person, block by block, and the forms behind its links.
void shootPerson(Shots& shots, app::MainWindow& window, const QString& trainee) {
    window.findChild<app::TraineePage*>()->showTrainee(trainee);
    window.showPage(PageId::Trainee);
    shots.within([&] { window.action(QStringLiteral("program.person"))->trigger(); },
                 [&](QWidget& dialog) {
                     auto* blocks = dialog.findChild<app::BlockTabs*>();
                     const auto form = [&](int block, const char* words, const char* name) {
                         blocks->show(block);
                         shots.grab(dialog, QLatin1String("person-") + QString::number(block));
                         shots.modal([&] { press(dialog, words); }, QLatin1String(name));
                     };
                     form(app::PersonDialog::Hours, "add hours", "person-hours-form");
                     form(app::PersonDialog::Tests, "book a test", "person-booking-form");
                     form(app::PersonDialog::Results, "take out", "person-take-out");
                     form(app::PersonDialog::Away, "left the program", "person-away-form");
                     form(app::PersonDialog::Record, "change what it says", "person-record-form");
                     shots.modal([&] { press(dialog, "change the number"); },
                                 QStringLiteral("person-licence"));
                     shots.modal([&] { press(dialog, "print"); }, QStringLiteral("person-record-print"));
                 });
    shots.dialog(QStringLiteral("program.dates"), QStringLiteral("dates"));
    shots.within([&] { window.action(QStringLiteral("program.keeping"))->trigger(); },
                 [&](QWidget& dialog) {
                     shots.grab(dialog, QStringLiteral("keeping"));
                     shots.modal([&] { press(dialog, "Erase..."); }, QStringLiteral("erase"));
                 });
}

void shootExport(Shots& shots, app::MainWindow& window) {
    shots.within([&] { window.action(QStringLiteral("file.export"))->trigger(); },
                 [&](QWidget& dialog) {
                     auto& form = static_cast<app::ExportDialog&>(dialog);
                     for (const auto& [what, name] : {std::pair(app::ExportWhat::Spreadsheet, "export"),
                                                      {app::ExportWhat::Study, "export-study"},
                                                      {app::ExportWhat::Sheets, "export-sheets"},
                                                      {app::ExportWhat::Documents, "export-documents"}}) {
                         form.choose(what);
                         shots.grab(dialog, QLatin1String(name));
                     }
                 });
}

/// The pair with the most differences, half of them settled, and the other blocks.
void shootAgreement(Shots& shots, app::MainWindow& window) {
    shots.agreementPage(QStringLiteral("agreement"));
    auto& page = *window.findChild<app::AgreementPage*>();
    app::AgreementModel& model = page.model();
    int most = 0;
    std::size_t differences = 0;
    for (int i = 0; i < model.pairs(); ++i) {
        model.setCurrent(i);
        if (model.compared().differences.size() <= differences) continue;
        differences = model.compared().differences.size();
        most = i;
    }
    model.setCurrent(most);
    for (std::size_t i = 0; i < differences; i += 2)
        model.choose(model.compared().differences[i].step,
                     i % 4 == 0 ? core::Choice::First : core::Choice::Second);
    for (app::BlockTabs* tabs : page.findChildren<app::BlockTabs*>()) tabs->show(1);
    shots.grab(window, QStringLiteral("agreement-all"));
    model.setNamesHidden(true);
    shots.grab(window, QStringLiteral("agreement-hidden"));
    model.setNamesHidden(false);
    for (app::BlockTabs* tabs : page.findChildren<app::BlockTabs*>()) tabs->show(0);
    shots.modal([&] { press(page, "other..."); }, QStringLiteral("agreement-other"));
    shots.modal([&] { press(page, "Settle record"); }, QStringLiteral("agreement-settle"));
    shots.dialog(QStringLiteral("view.data"), QStringLiteral("agreement-figures"));
    for (const core::StepDifference& one : model.compared().differences)
        model.choose(one.step, core::Choice::Open);
}

void shootInstructor(Shots& shots, app::MainWindow& window) {
    app::Session& session = *window.session();
    const QString trainee = busiestTrainee(session);
    shots.page(PageId::Scoring, QStringLiteral("start"));
    shootScoring(shots, window, trainee);
    shots.page(PageId::Trainees, QStringLiteral("trainees"));
    window.findChild<app::TraineePage*>()->showTrainee(trainee);
    waitForReadiness(window, *window.findChild<app::TraineePage*>());
    shots.page(PageId::Trainee, QStringLiteral("trainee"));
    shootReadinessDialogs(shots, window.findChild<app::TraineePage*>()->readiness());
    shots.dialog(QStringLiteral("view.data"), QStringLiteral("data-table"));
    shots.dialog(QStringLiteral("edit.edit"), QStringLiteral("trainee-form"));
    auto history = session.history(trainee);
    auto* debrief = window.findChild<app::DebriefPage*>();
    if (history && !history->empty())
        debrief->showAttempt(app::qs(history->at(history->size() / 2).attempt.header.id));
    shots.page(PageId::Debrief, QStringLiteral("debrief"));
    for (app::BlockTabs* tabs : debrief->findChildren<app::BlockTabs*>())
        if (tabs->isAncestorOf(&debrief->readiness().card())) {
            tabs->show(1);
            shots.grab(window, QStringLiteral("debrief-readiness"));
            tabs->show(0);
        }
    shots.dialog(QStringLiteral("attempt.amend"), QStringLiteral("amend"));
    shots.dialog(QStringLiteral("file.preview"), QStringLiteral("preview"));
    window.action(QStringLiteral("attempt.trainee-view"))->trigger();
    shots.grab(window, QStringLiteral("trainee-view"));
    window.action(QStringLiteral("attempt.trainee-view"))->trigger();
}

/// Copies of several days, one of them damaged, once all were looked into.
void shootCopies(Shots& shots, app::MainWindow& window) {
    constexpr std::int64_t kDay = 86'400'000;
    const std::filesystem::path file = app::fsPath(window.session()->path());
    const std::int64_t now = db::nowInMs();
    const std::vector<std::pair<core::CopyReason, int>> made{{core::CopyReason::Day, 8},
                                                             {core::CopyReason::Import, 2},
                                                             {core::CopyReason::Day, 1},
                                                             {core::CopyReason::Start, 0}};
    for (const auto& [reason, days] : made) (void)db::keepCopy(file, {reason, now - days * kDay, false});
    const auto copies = db::copiesOf(file);
    if (!copies.empty()) std::filesystem::resize_file(copies.back().path, copies.back().bytes / 2);
    (void)window.session()->file().saveTrainee({"late-1", "Invented", "", "", "", "", {}, "", "", "", false});
    QTimer watch;
    QObject::connect(&watch, &QTimer::timeout, &watch, [&] {
        auto* dialog = qobject_cast<app::CopiesDialog*>(QApplication::activeModalWidget());
        if (dialog == nullptr || !dialog->isComplete()) return;
        watch.stop();
        shots.grab(*dialog, QStringLiteral("copies"));
        dialog->close();
    });
    watch.start(20);
    window.action(QStringLiteral("file.copies"))->trigger();
    shots.dialog(QStringLiteral("file.bring-back"), QStringLiteral("bring-back"));
}

void shootTrail(Shots& shots, app::MainWindow& window) {
    auto& page = *window.findChild<app::TrailPage*>();
    window.showPage(PageId::Trail);
    (void)QTest::qWaitFor([&] { return !page.isReading() && !page.view().shown().empty(); }, 60000);
    shots.page(PageId::Trail, QStringLiteral("trail"));
}

/// Signing in, over the file that is open; nobody can afterwards.
void shootAccess(Shots& shots, app::MainWindow& window, const app::Theme& theme) {
    auto& file = window.session()->file();
    file.setPassphraseCost(db::PassphraseCost::Least);
    const auto instructors = file.instructors().value();
    shots.dialog(QStringLiteral("file.sign-in"), QStringLiteral("sign-in-off"));
    const auto code = file.startSignIn({"Cora Invented", core::Role::Coordinator, {}}, "four words are best");
    for (const core::Instructor& one : instructors)
        (void)file.saveAccount({one.name, core::Role::Instructor, one.key}, "four words are best");
    file.actAs({"Cora Invented", core::Role::Coordinator, {}});
    shots.dialog(QStringLiteral("file.sign-in"), QStringLiteral("accounts"));
    shots.modal([&] { app::OwnPassphraseDialog(theme, file, &window).exec(); },
                QStringLiteral("own-passphrase"));
    shots.modal(
        [&] {
            app::AccountDialog form(theme, {}, {}, instructors, true, &window);
            form.exec();
        },
        QStringLiteral("account"));
    shots.modal(
        [&] {
            app::RecoveryDialog paper(theme, *window.session(), forms::Paper::Letter, app::qs(*code),
                                      &window);
            shots.pdf(paper.sheet(), QStringLiteral("recovery-code"));
            paper.exec();
        },
        QStringLiteral("recovery-code"));
    window.lock();
    shots.grab(window, QStringLiteral("locked"));
    auto* cover = window.findChild<app::Cover*>();
    cover->ask(file, app::Cover::Reason::Opening, {}, QStringLiteral("demo.markerlamp"), true);
    shots.grab(window, QStringLiteral("cover"));
    for (auto* link : cover->findChildren<QPushButton*>())
        if (link->text() == QLatin1String("use the recovery code")) link->click();
    shots.grab(window, QStringLiteral("recovery"));
    for (int i = 0; i < 9; ++i) (void)file.signIn("Nobody", "", db::nowInMs() + i * 600'000LL);
    cover->ask(file, app::Cover::Reason::Opening, {}, QStringLiteral("demo.markerlamp"), true);
    shots.grab(window, QStringLiteral("wait"));
    (void)file.endSignIn();
    file.actAs({});
}

void shootCoordinator(Shots& shots, app::MainWindow& window) {
    shootProgram(shots, window);
    shootPerson(shots, window, busiestTrainee(*window.session()));
    shootAgreement(shots, window);
    shots.dialog(QStringLiteral("attempt.second"), QStringLiteral("second-scoring"));
    shots.trackPage(QStringLiteral("track-record"));
    shots.dialog(QStringLiteral("program.result"), QStringLiteral("test-result"));
    shots.dialog(QStringLiteral("program.readiness"), QStringLiteral("readiness-settings"));
    shots.page(PageId::Rubric, QStringLiteral("rubric"));
    shootEditor(shots, window);
    shootExport(shots, window);
    shots.dialog(QStringLiteral("file.blank"), QStringLiteral("blank-sheet"));
    shots.dialog(QStringLiteral("file.study"), QStringLiteral("study-sheet"));
    shootCopies(shots, window);
    shootTrail(shots, window);
    shots.dialog(QStringLiteral("edit.settings"), QStringLiteral("settings"));
    shots.dialog(QStringLiteral("program.instructors"), QStringLiteral("instructors"));
    shots.dialog(QStringLiteral("program.buses"), QStringLiteral("buses"));
    shots.dialog(QStringLiteral("help.keys"), QStringLiteral("keys"));
    shots.dialog(QStringLiteral("help.about"), QStringLiteral("about"));
}

}  // namespace

int main(int argc, char** argv) {
    if (argc < 2) {
        std::fprintf(stderr, "Usage: markerlamp_screenshots DIR [day|sun|predawn|system...]\n");
        return 2;
    }
    QTemporaryDir home;
    for (const char* name : {"XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_RUNTIME_DIR"})
        qputenv(name, home.path().toUtf8());
    if (qEnvironmentVariableIsEmpty("QT_QPA_PLATFORM")) qputenv("QT_QPA_PLATFORM", "offscreen");
    QGuiApplication::setHighDpiScaleFactorRoundingPolicy(Qt::HighDpiScaleFactorRoundingPolicy::PassThrough);
    QApplication application(argc, argv);
    QApplication::setApplicationName(QStringLiteral("markerlamp"));
    QApplication::setStyle(QStyleFactory::create(QStringLiteral("Fusion")));
    app::loadTranslations(application);
    std::optional<testing::LongerLanguage> longer;
    if (qEnvironmentVariableIsSet("MARKERLAMP_SHOT_LONGER")) longer.emplace();
    forms::loadFonts();
    const QDir dir(QString::fromLocal8Bit(argv[1]));
    if (!dir.mkpath(QStringLiteral("."))) return 3;
    const QStringList size =
        qEnvironmentVariable("MARKERLAMP_SHOT_SIZE", QStringLiteral("1366x768")).split(QLatin1Char('x'));

    const QDate today = QDate::currentDate();
    const QDate day = QDate::fromString(
        qEnvironmentVariable("MARKERLAMP_SHOT_DAY", today.toString(Qt::ISODate)), Qt::ISODate);
    if (!day.isValid()) {
        std::fprintf(stderr, "MARKERLAMP_SHOT_DAY is not a day; write it like 2026-03-16\n");
        return 2;
    }

    QStringList palettes;
    for (int i = 2; i < argc; ++i) palettes << QString::fromLocal8Bit(argv[i]);
    if (palettes.isEmpty()) palettes << QStringLiteral("day");
    const std::map<QString, app::Theme::Choice> choices{
        {QStringLiteral("day"), app::Theme::Choice::Day},
        {QStringLiteral("sun"), app::Theme::Choice::Sun},
        {QStringLiteral("predawn"), app::Theme::Choice::PreDawn},
        {QStringLiteral("system"), app::Theme::Choice::System}};
    app::Settings settings(home.filePath(QStringLiteral("settings.ini")));
    app::Theme theme;
    theme.setPxPerMm(theme.pxPerMm() *
                     qEnvironmentVariable("MARKERLAMP_SHOT_SCALE", QStringLiteral("1")).toDouble());
    app::MainWindow window(theme, settings);
    window.resize(size.value(0).toInt(), size.value(1).toInt());
    window.show();
    int count = 0;
    for (const QString& palette : palettes) {
        const auto choice = choices.find(palette);
        if (choice == choices.end()) return 2;
        theme.setChoice(choice->second);
        window.closeFile();
        const QString prefix = size.join(QLatin1Char('x')) + QLatin1Char('-') + palette + QLatin1Char('-');
        Shots shots(window, dir, prefix);
        shots.grab(window, QStringLiteral("first"));
        const QString empty = home.filePath(palette + QStringLiteral("-empty.markerlamp"));
        if (auto made = window.createFile(empty, false); !made) {
            std::fprintf(stderr, "%s\n", qPrintable(app::errorText(made.error())));
            return 3;
        }
        shots.page(PageId::Trainees, QStringLiteral("no-trainees"));
        shots.page(PageId::Debrief, QStringLiteral("no-attempt"));
        shots.page(PageId::Trainee, QStringLiteral("no-trainee"));
        shots.trackPage(QStringLiteral("no-result"));
        if (auto opened = window.openDemo(day); !opened) {
            std::fprintf(stderr, "%s\n", qPrintable(app::errorText(opened.error())));
            return 3;
        }
        const QString part = qEnvironmentVariable("MARKERLAMP_SHOT_PART");
        if (part != QLatin1String("coordinator") && part != QLatin1String("access"))
            shootInstructor(shots, window);
        if (part != QLatin1String("instructor") && part != QLatin1String("access"))
            shootCoordinator(shots, window);
        shootAccess(shots, window, theme);
        count += shots.count();
    }
    std::printf("%d pictures in %s\n", count, qPrintable(dir.absolutePath()));
    return 0;
}
