#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A paint device that keeps where each text went, to see whether texts collide, leave their part or had to be
// cut short.

#include <QFontMetricsF>
#include <QPaintDevice>
#include <QPaintEngine>
#include <QPainter>

#include <vector>

namespace markerlamp::testing {

struct PaintedText {
    QString text;
    QRectF ink;  ///< from the top of capitals to the baseline, over the width of the text
};

class TextRecorder final : public QPaintDevice {
public:
    explicit TextRecorder(QSize size) : m_size(size), m_engine(*this) {}

    [[nodiscard]] QPaintEngine* paintEngine() const override { return &m_engine; }
    [[nodiscard]] const std::vector<PaintedText>& texts() const { return m_texts; }

protected:
    [[nodiscard]] int metric(PaintDeviceMetric metric) const override {
        switch (metric) {
            case PdmWidth:
                return m_size.width();
            case PdmHeight:
                return m_size.height();
            case PdmWidthMM:
                return m_size.width() * 254 / 960;
            case PdmHeightMM:
                return m_size.height() * 254 / 960;
            case PdmDpiX:
            case PdmDpiY:
            case PdmPhysicalDpiX:
            case PdmPhysicalDpiY:
                return 96;
            case PdmNumColors:
                return 1 << 24;
            case PdmDepth:
                return 32;
            case PdmDevicePixelRatio:
                return 1;
            case PdmDevicePixelRatioScaled:
                return static_cast<int>(devicePixelRatioFScale());
            default:
                return 0;
        }
    }

private:
    class Engine final : public QPaintEngine {
    public:
        explicit Engine(TextRecorder& recorder)
            : QPaintEngine(QPaintEngine::AllFeatures), m_recorder(recorder) {}
        bool begin(QPaintDevice*) override { return true; }
        bool end() override { return true; }
        void updateState(const QPaintEngineState&) override {}
        void drawPixmap(const QRectF&, const QPixmap&, const QRectF&) override {}
        void drawPath(const QPainterPath&) override {}
        void drawPolygon(const QPointF*, int, PolygonDrawMode) override {}
        [[nodiscard]] Type type() const override { return User; }
        void drawTextItem(const QPointF& at, const QTextItem& item) override {
            if (item.text().trimmed().isEmpty()) return;
            const double height = QFontMetricsF(item.font()).capHeight();
            const QRectF ink(at.x(), at.y() - height, item.width(), height);
            m_recorder.m_texts.push_back({item.text(), painter()->transform().mapRect(ink)});
        }

    private:
        TextRecorder& m_recorder;
    };

    QSize m_size;
    mutable Engine m_engine;
    std::vector<PaintedText> m_texts;
};

}  // namespace markerlamp::testing
