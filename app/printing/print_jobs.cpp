// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/printing/print_jobs.h"
#include "app/support/names.h"
#include "app/support/small_screens.h"

#include "app/debrief/debrief_presenter.h"
#include "app/shell/session.h"
#include "app/support/display.h"
#include "app/support/folders.h"
#include "app/support/text_widgets.h"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QDir>
#include <QFileDialog>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QMessageBox>
#include <QPageLayout>
#include <QPageSize>
#include <QPainter>
#include <QPrintDialog>
#include <QPrinter>
#include <QPrinterInfo>
#include <QPushButton>
#include <QRegularExpression>
#include <QVBoxLayout>

namespace markerlamp::app {

core::Result<forms::Sheet> progressSheetOf(Session& session, const QString& attemptId, forms::Paper paper,
                                           SheetExtras extras) {
    auto debrief = loadDebrief(session, attemptId);
    if (!debrief) return core::fail(debrief.error());
    if (!debrief->ended)
        return core::fail(
            core::ErrorKind::Refused,
            ss(SheetPreview::tr("the attempt is not finished; finish it before printing its sheet")));
    const core::AttemptHeader& header = debrief->scored.attempt.header;
    forms::ProgressSheetInput input;
    input.programTitle = session.title();
    if (auto trainee = session.file().trainee(header.trainee); trainee && *trainee) input.trainee = **trainee;
    if (input.trainee.key.empty()) input.trainee.key = header.trainee;
    if (input.trainee.name.empty()) input.trainee.name = header.trainee;
    input.instructorName = instructorName(session.file(), header.instructor);
    input.busTitle = busTitle(session.file(), header.bus);
    auto history = session.history(qs(header.trainee), attemptId);
    if (!history) return core::fail(history.error());
    input.history = std::move(*history);
    if (input.history.empty() || input.history.back().attempt.header.id != header.id)
        input.history.push_back(debrief->scored);
    if (!debrief->amendments.empty()) {
        const Amendment& last = debrief->amendments.back();
        input.amendedBy = last.by;
        input.amendedAt = last.at;
    }
    input.version = QStringLiteral(MARKERLAMP_VERSION);
    input.printed = QDateTime::currentDateTime();
    input.paper = paper;
    input.readiness = std::move(extras.readiness);
    input.drill = std::move(extras.drill);
    return forms::progressSheet(input);
}

core::Result<forms::Sheet> blankSheetOf(Session& session, const QString& rubric, int edition,
                                        const QString& bus, forms::Paper paper) {
    const auto loaded = session.file().rubric(ss(rubric), edition);
    if (!loaded) return core::fail(loaded.error());
    std::vector<std::string> equipment;
    for (const auto& [tag, title] : (*loaded)->equipment) equipment.push_back(tag);
    if (const auto buses = session.file().buses(); buses && !bus.isEmpty())
        for (const core::Bus& one : *buses)
            if (qs(one.key) == bus) equipment = one.equipment;
    return forms::blankSheet(**loaded, equipment, paper, QStringLiteral(MARKERLAMP_VERSION),
                             QDateTime::currentDateTime());
}

core::Result<forms::Sheet> studySheetOf(Session& session, const QString& rubric, int edition,
                                        const QString& zone, const QString& trainee, forms::Paper paper) {
    const auto loaded = session.file().rubric(ss(rubric), edition);
    if (!loaded) return core::fail(loaded.error());
    std::vector<std::string> missed;
    if (!trainee.isEmpty()) {
        auto history = session.history(trainee);
        if (!history) return core::fail(history.error());
        for (const core::SayNext& line : core::sayNextTime(*history)) missed.push_back(line.step);
    }
    return forms::studySheet(**loaded, ss(zone), missed, paper, QStringLiteral(MARKERLAMP_VERSION),
                             QDateTime::currentDateTime());
}

forms::Sheet draftStudySheet(const core::Rubric& rubric, const QString& zone, forms::Paper paper) {
    return forms::studySheet(rubric, ss(zone), {}, paper, QStringLiteral(MARKERLAMP_VERSION),
                             QDateTime::currentDateTime());
}

QString pdfName(const QString& what, const QStringList& facts) {
    static const QRegularExpression other(QStringLiteral("[^A-Za-z0-9._-]+"));
    QStringList parts{what};
    for (QString fact : facts)
        if (!fact.isEmpty()) parts << fact.replace(other, QStringLiteral("-"));
    return parts.join(QLatin1Char('-')) + QStringLiteral(".pdf");
}

QString printSheet(const forms::Sheet& sheet, const QString& suggestedName, QWidget* parent) {
    if (QPrinterInfo::availablePrinterNames().isEmpty()) {
        const QString folder = documentsFolder();
        const QString path = QFileDialog::getSaveFileName(
            parent, SheetPreview::tr("No printer: write the sheet as a PDF file"),
            QDir(folder).filePath(suggestedName), SheetPreview::tr("PDF (*.pdf)"));
        if (path.isEmpty()) return {};
        if (auto done = forms::writePdf(sheet, path); !done) {
            QMessageBox::warning(parent, SheetPreview::tr("Not written"), errorText(done.error()));
            return {};
        }
        return SheetPreview::tr("Sheet written to %1").arg(QDir::toNativeSeparators(path));
    }
    QPrinter printer(QPrinter::HighResolution);
    const QPageSize size(sheet.paper() == forms::Paper::A4 ? QPageSize::A4 : QPageSize::Letter);
    printer.setPageLayout(QPageLayout(size, QPageLayout::Portrait, QMarginsF()));
    printer.setFullPage(true);
    printer.setDocName(sheet.title());
    QPrintDialog dialog(&printer, parent);
    dialog.setOptions(QAbstractPrintDialog::PrintToFile | QAbstractPrintDialog::PrintShowPageSize);
    if (dialog.exec() != QDialog::Accepted) return {};
    sheet.print(printer);
    return SheetPreview::tr("%n page(s) sent to %1", nullptr, sheet.pages()).arg(printer.printerName());
}

class SheetPreview::PageView final : public QWidget {
public:
    PageView(const Theme& theme, const forms::Sheet& sheet) : m_theme(theme), m_sheet(sheet) {
        setFocusPolicy(Qt::StrongFocus);
        setMinimumSize(qRound(theme.s(320)), qRound(theme.s(400)));
    }
    void setPage(int page) {
        m_page = page;
        setAccessibleName(
            SheetPreview::tr("Page %1 of %2: %3").arg(page + 1).arg(m_sheet.pages()).arg(m_sheet.title()));
        update();
    }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        painter.fillRect(rect(), m_theme.roles().panel);
        const QSizeF paper = m_sheet.sizeMm();
        const double scale = std::min((width() - 24) / paper.width(), (height() - 24) / paper.height());
        const QSizeF size = paper * scale;
        const QRectF page((width() - size.width()) / 2, (height() - size.height()) / 2, size.width(),
                          size.height());
        painter.fillRect(page, Qt::white);  // paper is white under every palette
        painter.save();
        painter.setRenderHint(QPainter::Antialiasing);
        painter.setClipRect(page);
        m_sheet.paintPage(painter, m_page, page);
        painter.restore();
        painter.setPen(QPen(m_theme.roles().ink, hasFocus() ? 3 : 1));
        painter.drawRect(page.adjusted(-2, -2, 2, 2));
    }

private:
    const Theme& m_theme;
    const forms::Sheet& m_sheet;
    int m_page = 0;
};

SheetPreview::SheetPreview(const Theme& theme, forms::Sheet sheet, const QString& suggestedName,
                           QWidget* parent)
    : QDialog(parent),
      m_sheet(std::move(sheet)),
      m_name(suggestedName),
      m_view(new PageView(theme, m_sheet)),
      m_number(new Text(theme, 15)) {
    setWindowTitle(tr("Preview"));  // a sheet's own title may hold a name
    resizeToScreen(*this, {qRound(theme.s(640)), qRound(theme.s(700))});
    auto* column = new QVBoxLayout(this);
    column->addWidget(m_view, 1);
    auto* row = new QHBoxLayout;
    m_back = new QPushButton(tr("&Back"));
    m_forward = new QPushButton(tr("&Forward"));
    auto* print = new QPushButton(tr("&Print..."));
    auto* pdf = new QPushButton(tr("Write as P&DF..."));
    auto* close = new QPushButton(tr("&Close"));
    print->setProperty("primary", true);
    print->setDefault(true);
    row->addWidget(m_back);
    row->addWidget(m_number);
    row->addWidget(m_forward);
    row->addStretch(1);
    for (QPushButton* button : {print, pdf, close}) row->addWidget(button);
    column->addLayout(row);
    connect(m_back, &QPushButton::clicked, this, [this] { turn(-1); });
    connect(m_forward, &QPushButton::clicked, this, [this] { turn(1); });
    connect(close, &QPushButton::clicked, this, &QDialog::reject);
    connect(print, &QPushButton::clicked, this, [this] {
        m_outcome = printSheet(m_sheet, m_name, this);
        if (!m_outcome.isEmpty()) accept();
    });
    connect(pdf, &QPushButton::clicked, this, [this] {
        const QString folder = documentsFolder();
        const QString path = QFileDialog::getSaveFileName(this, tr("Write the sheet as a PDF file"),
                                                          QDir(folder).filePath(m_name), tr("PDF (*.pdf)"));
        if (path.isEmpty()) return;
        if (auto done = forms::writePdf(m_sheet, path); !done) {
            QMessageBox::warning(this, tr("Not written"), errorText(done.error()));
            return;
        }
        m_outcome = tr("Sheet written to %1").arg(QDir::toNativeSeparators(path));
        accept();
    });
    turn(0);
    print->setFocus();
}

void SheetPreview::turn(int by) {
    m_page = qBound(0, m_page + by, m_sheet.pages() - 1);
    m_view->setPage(m_page);
    m_number->setText(tr("page %1 of %2").arg(m_page + 1).arg(m_sheet.pages()));
    m_back->setEnabled(m_page > 0);
    m_forward->setEnabled(m_page + 1 < m_sheet.pages());
}

SheetChooser::SheetChooser(const Theme& theme, Session& session, Kind kind, const QString& rubric,
                           int edition, const QString& zone, QWidget* parent)
    : QDialog(parent),
      m_session(session),
      m_kind(kind),
      m_rubric(new QComboBox),
      m_second(new QComboBox),
      m_trainee(new QComboBox) {
    setWindowTitle(kind == Kind::Blank ? tr("Blank score sheet") : tr("Study sheet"));
    auto* column = new QVBoxLayout(this);
    auto* words = new Text(
        theme, 15, false, Ink::Full,
        kind == Kind::Blank ? tr("For days without power: every step with its squares and circles to mark.")
                            : tr("For the trainee: what to show at the left, what to say at the right. "
                                 "Folded on the line it hides the answers."));
    words->setWordWrap(true);
    words->setMinimumWidth(qRound(theme.s(420)));
    column->addWidget(words);
    auto* form = new QFormLayout;
    if (const auto infos = session.file().rubrics())
        for (const db::RubricInfo& info : *infos) {
            m_rubric->addItem(tr("%1, edition %2").arg(qs(info.title)).arg(info.edition),
                              QStringList{qs(info.id), QString::number(info.edition)});
            if (qs(info.id) == rubric && info.edition == edition)
                m_rubric->setCurrentIndex(m_rubric->count() - 1);
        }
    form->addRow(tr("&Rubric"), m_rubric);
    form->addRow(kind == Kind::Blank ? tr("&Bus") : tr("&Zone"), m_second);
    if (kind == Kind::Study) {
        m_trainee->addItem(tr("nobody in particular"), QString());
        if (const auto all = session.file().trainees())
            for (const core::Trainee& one : *all)
                m_trainee->addItem(qs(one.name.empty() ? one.key : one.name), qs(one.key));
        form->addRow(tr("&Mark what was missed by"), m_trainee);
    } else {
        m_trainee->setParent(this);
        m_trainee->hide();
    }
    column->addLayout(form);
    auto* buttons = new QDialogButtonBox;
    auto* show = buttons->addButton(tr("&Show the sheet"), QDialogButtonBox::AcceptRole);
    show->setProperty("primary", true);
    show->setDefault(true);
    buttons->addButton(tr("&Cancel"), QDialogButtonBox::RejectRole);
    column->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(m_rubric, &QComboBox::currentIndexChanged, this, [this] { fillSecond({}); });
    fillSecond(zone);
    show->setEnabled(m_rubric->count() > 0);
}

void SheetChooser::fillSecond(const QString& zone) {
    m_second->clear();
    if (m_kind == Kind::Blank) {
        m_second->addItem(tr("any bus: every step"), QString());
        if (const auto all = m_session.file().buses())
            for (const core::Bus& one : *all)
                m_second->addItem(qs(one.title.empty() ? one.key : one.title), qs(one.key));
        return;
    }
    m_second->addItem(tr("every zone"), QString());
    const QStringList chosen = m_rubric->currentData().toStringList();
    if (chosen.size() != 2) return;
    if (const auto rubric = m_session.file().rubric(ss(chosen[0]), chosen[1].toInt()))
        for (const core::Zone& one : (*rubric)->zones) {
            m_second->addItem(qs(one.title), qs(one.id));
            if (qs(one.id) == zone) m_second->setCurrentIndex(m_second->count() - 1);
        }
}

core::Result<forms::Sheet> SheetChooser::sheet(forms::Paper paper) const {
    const QStringList chosen = m_rubric->currentData().toStringList();
    if (chosen.size() != 2) return core::fail(core::ErrorKind::NotFound, ss(tr("no rubric is chosen")));
    const QString second = m_second->currentData().toString();
    if (m_kind == Kind::Blank) return blankSheetOf(m_session, chosen[0], chosen[1].toInt(), second, paper);
    return studySheetOf(m_session, chosen[0], chosen[1].toInt(), second, m_trainee->currentData().toString(),
                        paper);
}

QString SheetChooser::suggestedName() const {
    const QStringList chosen = m_rubric->currentData().toStringList();
    return pdfName(m_kind == Kind::Blank ? QStringLiteral("blank-sheet") : QStringLiteral("study-sheet"),
                   {chosen.value(0), chosen.value(1), m_second->currentData().toString()});
}

}  // namespace markerlamp::app
