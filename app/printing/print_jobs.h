#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Printed documents from the window: builds the sheet, shows it, hands it to a printer or writes a PDF.

#include "app/readiness/sheet_readiness.h"
#include "app/support/theme.h"
#include "core/base/result.h"
#include "forms/sheets/sheets.h"

#include <QDialog>

class QComboBox;

namespace markerlamp::app {

class Session;
class Text;

/// The progress sheet of an attempt, with the trainee's earlier ones and what else it is to carry.
[[nodiscard]] core::Result<forms::Sheet> progressSheetOf(Session& session, const QString& attemptId,
                                                         forms::Paper paper, SheetExtras extras = {});
/// Equipment of the bus; empty key: everything that the rubric knows.
[[nodiscard]] core::Result<forms::Sheet> blankSheetOf(Session& session, const QString& rubric, int edition,
                                                      const QString& bus, forms::Paper paper);
/// Steps that the trainee missed last time are marked; empty key: none.
[[nodiscard]] core::Result<forms::Sheet> studySheetOf(Session& session, const QString& rubric, int edition,
                                                      const QString& zone, const QString& trainee,
                                                      forms::Paper paper);

/// Of a rubric that is in no file yet; zone empty: all.
[[nodiscard]] forms::Sheet draftStudySheet(const core::Rubric& rubric, const QString& zone,
                                           forms::Paper paper);

/// A file name that says what it holds: "progress-sheet-t-003-2026-03-12.pdf".
[[nodiscard]] QString pdfName(const QString& what, const QStringList& facts);

/// What choosing a printer and pressing Enter does. Without any printer a PDF is written instead. Returns
/// what was done, in words; empty when it was cancelled.
QString printSheet(const forms::Sheet& sheet, const QString& suggestedName, QWidget* parent);

/// The pages as they will be printed.
class SheetPreview final : public QDialog {
    Q_OBJECT

public:
    SheetPreview(const Theme& theme, forms::Sheet sheet, const QString& suggestedName, QWidget* parent);
    [[nodiscard]] QString outcome() const { return m_outcome; }

private:
    class PageView;
    void turn(int by);

    forms::Sheet m_sheet;
    QString m_name;
    QString m_outcome;
    int m_page = 0;
    PageView* m_view;
    Text* m_number;
    QPushButton *m_back = nullptr, *m_forward = nullptr;
};

/// Chooses what a blank sheet or a study sheet is made for.
class SheetChooser final : public QDialog {
    Q_OBJECT

public:
    enum class Kind { Blank, Study };

    SheetChooser(const Theme& theme, Session& session, Kind kind, const QString& rubric, int edition,
                 const QString& zone, QWidget* parent);
    [[nodiscard]] core::Result<forms::Sheet> sheet(forms::Paper paper) const;
    [[nodiscard]] QString suggestedName() const;

private:
    void fillSecond(const QString& zone);

    Session& m_session;
    Kind m_kind;
    QComboBox* m_rubric;
    QComboBox* m_second;  ///< bus, or zone
    QComboBox* m_trainee;
};

}  // namespace markerlamp::app
