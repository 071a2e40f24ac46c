package idlewright.frame.rules;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.FontFormatException;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.geom.Line2D;
import java.awt.geom.Path2D;
import java.awt.geom.Rectangle2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Objects;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import javax.imageio.ImageIO;
import javax.imageio.stream.MemoryCacheImageOutputStream;

/** A line plot for paper, which has no way to draw: a PNG in greys without transparency, made to be 160 mm wide. */
public final class PlotPicture {

    private static final int WIDTH = 1600;
    private static final int HEIGHT = 560;
    private static final Rectangle2D.Double FRAME = new Rectangle2D.Double(130, 48, 1430, 440);
    private static final float LETTER = 28;
    private static final Pattern STEP = Pattern.compile("([MLHV])([-0-9. ]+)");
    private static final Color[] INKS = {Color.BLACK, new Color(0x777777)};
    private static final Font PLAIN = font("AtkinsonHyperlegible-Regular.ttf");
    /** For letters that the first one has not. */
    private static final Font WIDER = font("DejaVuSans.ttf");

    private PlotPicture() {}

    public static byte[] png(LinePlot plot) {
        var image = new BufferedImage(WIDTH, HEIGHT, BufferedImage.TYPE_BYTE_GRAY);
        Graphics2D pen = image.createGraphics();
        pen.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
        pen.setRenderingHint(RenderingHints.KEY_STROKE_CONTROL, RenderingHints.VALUE_STROKE_PURE);
        pen.setColor(Color.WHITE);
        pen.fillRect(0, 0, WIDTH, HEIGHT);
        draw(plot, pen);
        pen.dispose();
        var bytes = new ByteArrayOutputStream();
        try (var out = new MemoryCacheImageOutputStream(bytes)) {
            ImageIO.write(image, "png", out);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }

    private static void draw(LinePlot plot, Graphics2D pen) {
        if (plot.limit() != null) {
            pen.setColor(new Color(0xe4e4e4));
            double top = y(plot.limit().from());
            pen.fill(new Rectangle2D.Double(
                    FRAME.x, top, FRAME.width, y(plot.limit().to()) - top));
        }
        double free = 0;
        for (LinePlot.Stretch stretch : plot.stretches()) {
            double from = x(stretch.from());
            double width = Math.max(4, x(stretch.to()) - from);
            pen.setColor(new Color(0xd0d0d0));
            pen.fill(new Rectangle2D.Double(from, FRAME.y, width, FRAME.height));
            pen.setColor(Color.BLACK);
            // Names that would run into one another are left out; the words beside the picture name them all.
            if (from >= free) {
                free = write(pen, stretch.words(), from, FRAME.y - 12, 0) + LETTER;
            }
        }
        pen.setStroke(new BasicStroke(1.5f));
        for (LinePlot.Tick tick : plot.up()) {
            pen.setColor(new Color(0xaaaaaa));
            pen.draw(new Line2D.Double(FRAME.x, y(tick.at()), FRAME.getMaxX(), y(tick.at())));
            pen.setColor(Color.BLACK);
            write(pen, tick.words(), FRAME.x - 12, y(tick.at()) + LETTER / 3, 1);
        }
        pen.setStroke(new BasicStroke(2.5f));
        pen.draw(new Line2D.Double(FRAME.x, FRAME.getMaxY(), FRAME.getMaxX(), FRAME.getMaxY()));
        for (LinePlot.Tick tick : plot.across()) {
            pen.draw(new Line2D.Double(x(tick.at()), FRAME.getMaxY(), x(tick.at()), FRAME.getMaxY() + 10));
            write(pen, tick.words(), x(tick.at()), FRAME.getMaxY() + 14 + LETTER, 0.5);
        }
        pen.setStroke(new BasicStroke(3.5f, BasicStroke.CAP_ROUND, BasicStroke.JOIN_ROUND));
        for (int i = 0; i < plot.lines().size(); i++) {
            pen.setColor(INKS[i % INKS.length]);
            pen.draw(path(plot.lines().get(i).path()));
        }
    }

    /** A path in a square of 1000 by 1000, as the screen draws it. */
    private static Path2D path(String steps) {
        var path = new Path2D.Double();
        double[] at = {0, 0};
        for (MatchResult step : STEP.matcher(steps).results().toList()) {
            String[] numbers = step.group(2).strip().split(" ");
            double first = Double.parseDouble(numbers[0]);
            switch (step.group(1)) {
                case "H" -> at[0] = first;
                case "V" -> at[1] = first;
                default -> {
                    at[0] = first;
                    at[1] = Double.parseDouble(numbers[1]);
                }
            }
            double x = FRAME.x + at[0] / 1000 * FRAME.width;
            double y = FRAME.y + at[1] / 1000 * FRAME.height;
            if (step.group(1).equals("M")) {
                path.moveTo(x, y);
                path.lineTo(x, y);
            } else {
                path.lineTo(x, y);
            }
        }
        return path;
    }

    /** Sets words before (1), about (0.5) or after (0) a place, within the picture; answers where they end. */
    private static double write(Graphics2D pen, String words, double x, double y, double share) {
        Font font = PLAIN.canDisplayUpTo(words) < 0 ? PLAIN : WIDER;
        var letters = font.deriveFont(LETTER).createGlyphVector(pen.getFontRenderContext(), words);
        double width = letters.getLogicalBounds().getWidth();
        double left = Math.max(2, Math.min(x - share * width, WIDTH - 2 - width));
        pen.fill(letters.getOutline((float) left, (float) y));
        return left + width;
    }

    private static double x(String percent) {
        return FRAME.x + number(percent) / 100 * FRAME.width;
    }

    private static double y(String percent) {
        return FRAME.y + number(percent) / 100 * FRAME.height;
    }

    private static double number(String percent) {
        return Double.parseDouble(percent.replace("%", ""));
    }

    private static Font font(String name) {
        try (var in = Objects.requireNonNull(PlotPicture.class.getResourceAsStream("/paper/fonts/" + name))) {
            return Font.createFont(Font.TRUETYPE_FONT, in);
        } catch (FontFormatException e) {
            throw new IllegalStateException(e);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
