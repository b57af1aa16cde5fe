#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The window: one program file at a time, its pages, one action per command in the menus, the status bar.
// Pages decide; the window only brings them together.

#include "app/readiness/drill_panel.h"
#include "app/settings/settings.h"
#include "app/shell/page.h"
#include "app/support/theme.h"
#include "core/access/deeds.h"
#include "core/base/result.h"
#include "forms/sheets/sheets.h"

#include <QMainWindow>
#include <QPointer>

#include <map>
#include <memory>
#include <optional>
#include <vector>

class QLabel;
class QMenu;
class QStackedWidget;

namespace markerlamp::app {

class AgreementPage;
class CopyKeeper;
class Cover;
class DebriefPage;
class EditorPage;
class FirstPage;
class HelpWindow;
class IdleWatch;
class PageBar;
class ReadinessDesk;
class RubricPage;
class ScoringPage;
class Session;
struct SheetExtras;
class StartPage;
class Text;
class TraineePage;
class TraineesPage;
class ProgramPage;
class TrackPage;
class TrailPage;
class WindowLock;

class MainWindow final : public QMainWindow {
    Q_OBJECT

public:
    enum class PageId {
        Start,
        Scoring,
        Debrief,
        Trainees,
        Trainee,
        Program,
        Agreement,
        Track,
        Rubric,
        Edition,
        Trail
    };
    Q_ENUM(PageId)

    MainWindow(Theme& theme, Settings& settings, QWidget* parent = nullptr);
    ~MainWindow() override;

    /// Opens the file in place of the one that is open; the error is returned and nothing changes.
    core::Result<void> openFile(const QString& path);
    core::Result<void> createFile(const QString& path, bool demo);
    /// Opens the demo in the data folder, making it first where it is not there or where it has grown old and
    /// nobody changed it.
    core::Result<void> openDemo(const QDate& today = QDate::currentDate());
    void closeFile();
    [[nodiscard]] Session* session() const { return m_session.get(); }
    /// Where readiness of the files opened from now on comes from; the file itself unless a test says
    /// otherwise.
    void setReadinessOpener(ReadinessOpener opener) { m_readinessOpener = std::move(opener); }
    /// Of the open file.
    [[nodiscard]] ReadinessDesk* readiness() const { return m_readiness.get(); }

    void showPage(PageId id);
    [[nodiscard]] PageId currentPageId() const { return m_current; }
    /// The page in front; the welcome page while no file is open.
    [[nodiscard]] Page* currentPage() const;
    /// By object name, as menus.cpp gives it ("file.open").
    [[nodiscard]] QAction* action(const QString& name) const;
    [[nodiscard]] QList<QAction*> commands() const;

    /// Stores what waits, pauses a running attempt and remembers the window; what closing it does, without a
    /// question.
    void leave();
    /// Shows the last action at the left of the status bar and tells assistive technology.
    void say(const QString& message);
    /// Takes documents into the open file and shows what became of each.
    void importFiles(const QStringList& paths);

    /// Nothing of the open file is shown until somebody signs in.
    [[nodiscard]] bool isCovered() const;
    /// Covered over the pages of who is signed in; what runs there goes on.
    [[nodiscard]] bool isLocked() const;
    /// What nobody touching anything for long does.
    void lock();
    /// How long that is; for tests.
    [[nodiscard]] IdleWatch& idleWatch() { return *m_idle; }

    /// Where the demo program lies.
    [[nodiscard]] static QString demoPath();

protected:
    void changeEvent(QEvent* event) override;
    void closeEvent(QCloseEvent* event) override;
    void dragEnterEvent(QDragEnterEvent* event) override;
    void dropEvent(QDropEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;

private:
    // menus.cpp
    void makeMenus();
    void makeFileMenu();
    void makeEditMenu();
    void makeAttemptMenu();
    void makeViewMenu();
    void makeProgramMenu();
    void makeEditionMenu(QMenu* program);
    void makeHelpMenu();
    QAction* addCommand(QMenu* menu, const QString& name, const QString& text, const QKeySequence& key,
                        const QString& tip);
    QAction* addPageCommand(QMenu* menu, PageCommand command, const QString& name, const QString& text,
                            const QKeySequence& key, const QString& tip);
    void fillRecentMenu();

    // main_window.cpp
    void makeStatusBar();
    void adopt(std::unique_ptr<Session> session);
    void enter();
    void closePages();
    void makePages();
    void addPage(PageId id, Page* page);
    void makeProgramPage();
    void editLimits();
    void updateCommands();
    void updateTitle();
    void updateStatus();
    void applyTheme();
    void giveFocus(Page& page);
    void stepPage(int by);
    void showError(const QString& title, const core::Error& error);

    // window_documents.cpp
    void newProgram();
    void openProgram();
    void chooseImport();
    void showExport();
    void printAttempt(const QString& attempt, bool preview);
    void printDrill(const QString& attempt);
    [[nodiscard]] SheetExtras extrasFor(const QString& trainee, bool readiness, bool drill);
    void printChosen(bool study, const QString& rubric, int edition, const QString& zone);
    /// Whether it left the program.
    bool showSheet(const core::Result<forms::Sheet>& sheet, const QString& name, bool preview);
    void keepSheetMade(const QString& attempt);
    void noteSheetSigned(const QString& attempt);
    void showSettings();
    void showHelp(const QString& page);
    void showKeys();
    void showAbout();
    void editProgramTitle();
    void recordTestResult(const QString& trainee);
    /// The trainee of the page in front, or of its current row; empty: none.
    [[nodiscard]] QString traineeInFront() const;

    // window_copies.cpp
    void beginCopies();
    void showCopies();
    void restoreCopy(const QString& copy);
    void bringBackCopy();
    void copyBeforeImport();

    // window_access.cpp
    void makeCover();
    void askWho();
    void comeIn(const core::Acting& acting);
    void changeOver();
    void uncover();
    void watchIdle();
    void signOut();
    void showAccounts();
    void accountsChanged(const core::Acting& before);
    void showRecoveryCode(const QString& code);
    [[nodiscard]] bool mayLock() const;
    [[nodiscard]] bool attemptRuns() const;
    /// Says who may when it is not allowed.
    bool allowed(core::Deed deed);
    /// Those that the cover shut; what the page and the file say of them comes after.
    void reopenCommands();
    void guardCommands();

    // window_editing.cpp
    void makeRubricPages();
    void editEdition(const QString& rubric, int edition);
    void editRubric(const core::Rubric& rubric, int base);
    void editFile(const QString& path);
    void chooseRubricFile();
    void leftEditor(const QString& rubric, int edition);

    // window_scoring.cpp
    void makeScoringPages();
    void startAttempt(const QString& trainee);
    void startDrill(const DrillAttempt& drill);
    void startSecondScoring();
    void writeAttempt();
    void begin(const core::AttemptHeader& header);
    void holdReadiness();
    void goOnScoring(const core::Result<void>& opened, const QString& title);
    [[nodiscard]] Page* pageFor(PageId id) const;
    void updateFrame();

    Theme& m_theme;
    Settings& m_settings;
    std::unique_ptr<Session> m_session;
    std::unique_ptr<CopyKeeper> m_copies;  ///< of the open file
    ReadinessOpener m_readinessOpener;
    std::unique_ptr<ReadinessDesk> m_readiness;  ///< after the session: it reads from it
    std::optional<DrillAttempt> m_drill;         ///< for which the start form is open
    std::map<QString, QAction*> m_actions;
    std::map<PageCommand, QAction*> m_pageCommands;
    std::map<PageId, QAction*> m_pageActions;
    std::vector<QAction*> m_fileActions;  ///< only while a file is open
    PageBar* m_bar;
    Text* m_warning;  ///< over every page while presses wait: what is wrong, and what to do
    QStackedWidget* m_stack;
    FirstPage* m_first;
    std::map<PageId, Page*> m_pages;
    PageId m_current = PageId::Trainees;
    StartPage* m_start = nullptr;
    ScoringPage* m_scoring = nullptr;
    DebriefPage* m_debrief = nullptr;
    TraineesPage* m_trainees = nullptr;
    TraineePage* m_trainee = nullptr;
    ProgramPage* m_program = nullptr;
    AgreementPage* m_agreement = nullptr;
    TrackPage* m_track = nullptr;
    TrailPage* m_trail = nullptr;
    RubricPage* m_rubric = nullptr;
    EditorPage* m_editor = nullptr;
    QMenu* m_recentMenu = nullptr;
    HelpWindow* m_help = nullptr;
    QLabel* m_said = nullptr;
    QLabel* m_saved = nullptr;
    QLabel* m_palette = nullptr;
    QString m_trouble;
    const Page* m_saidOf = nullptr;  ///< the page that said what the status bar shows
    Cover* m_cover = nullptr;
    std::unique_ptr<WindowLock> m_lock;
    std::unique_ptr<IdleWatch> m_idle;
    std::optional<core::Acting> m_inside;  ///< whose pages lie under the lock
    QPointer<QWidget> m_focus;             ///< where they were
};

/// Documents of an import report in words: "2 added, 1 already there, 1 refused".
[[nodiscard]] QString importSummary(int added, int changed, int there, int refused);

}  // namespace markerlamp::app
