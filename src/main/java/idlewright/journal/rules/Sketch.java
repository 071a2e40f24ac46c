package idlewright.journal.rules;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * The marks of a picture as lines to be drawn over it, in the picture's own pixels.
 *
 * @param letter height of a letter
 */
public record Sketch(int width, int height, double letter, List<Drawn> drawn) {

    /** One mark, numbered from 1 in the order in which they were made. */
    public record Drawn(int number, ImageMark.Kind kind, double x, double y, double toX, double toY, String words) {

        /** How far the rim is from the middle, or how long the arrow is. */
        public double reach() {
            return Math.hypot(toX - x, toY - y);
        }
    }

    /** Lays the marks over a picture of this size. */
    public static Sketch of(int width, int height, List<ImageMark> marks) {
        var drawn = new ArrayList<Drawn>();
        for (ImageMark mark : marks) {
            double x = mark.x().doubleValue() / 100 * width;
            double y = mark.y().doubleValue() / 100 * height;
            drawn.add(new Drawn(
                    drawn.size() + 1,
                    mark.kind(),
                    x,
                    y,
                    mark.toX() == null ? x : mark.toX().doubleValue() / 100 * width,
                    mark.toY() == null ? y : mark.toY().doubleValue() / 100 * height,
                    mark.words()));
        }
        return new Sketch(width, height, Math.max(width, height) / 28.0, List.copyOf(drawn));
    }

    public boolean empty() {
        return drawn.isEmpty();
    }

    public String viewBox() {
        return "0 0 %d %d".formatted(width, height);
    }

    /** The line of a mark as an SVG path; empty for words. */
    public String path(Drawn one) {
        return switch (one.kind()) {
            case CIRCLE ->
                text(
                        "M%.1f %.1fa%3$.1f %3$.1f 0 1 0 %4$.1f 0a%3$.1f %3$.1f 0 1 0 -%4$.1f 0",
                        one.x() - one.reach(), one.y(), one.reach(), 2 * one.reach());
            case ARROW -> {
                double[] head = head(one);
                yield text(
                        "M%.1f %.1fL%.1f %.1fM%.1f %.1fL%.1f %.1fL%.1f %.1f",
                        one.toX(), one.toY(), one.x(), one.y(), head[0], head[1], one.x(), one.y(), head[2], head[3]);
            }
            case WORDS -> "";
        };
    }

    /** The two ends of an arrow's head. */
    public double[] head(Drawn arrow) {
        double back = Math.atan2(arrow.toY() - arrow.y(), arrow.toX() - arrow.x());
        double side = Math.min(letter, Math.max(arrow.reach() / 2, letter / 4));
        double spread = Math.toRadians(28);
        return new double[] {
            arrow.x() + side * Math.cos(back - spread), arrow.y() + side * Math.sin(back - spread),
            arrow.x() + side * Math.cos(back + spread), arrow.y() + side * Math.sin(back + spread)
        };
    }

    /** What is written: the number, and the words when there are any. */
    public String label(Drawn one) {
        return one.words().isEmpty() ? "" + one.number() : one.number() + " " + one.words();
    }

    /** Where the writing begins, kept within the picture as far as its length can be guessed. */
    public double labelX(Drawn one) {
        double wanted = switch (one.kind()) {
            case CIRCLE -> one.x() + one.reach() * 0.75;
            case ARROW -> one.toX() + (one.toX() < one.x() ? -letter : letter / 3);
            case WORDS -> one.x();
        };
        double length = label(one).length() * letter * 0.56;
        return Math.max(letter / 4, Math.min(wanted, width - length - letter / 4));
    }

    /** The line on which the writing stands. */
    public double labelY(Drawn one) {
        double wanted = switch (one.kind()) {
            case CIRCLE -> one.y() - one.reach() * 0.75;
            case ARROW -> one.toY() + (one.toY() < one.y() ? -letter / 3 : letter);
            case WORDS -> one.y() + letter / 2;
        };
        return Math.max(letter, Math.min(wanted, height - letter / 3));
    }

    /** The drawing over its picture as a file of its own, which any browser shows beside that picture. */
    public String svg(String pictureHref, String title) {
        var out = new StringBuilder();
        out.append("""
                <?xml version="1.0" encoding="UTF-8"?>
                <svg xmlns="http://www.w3.org/2000/svg" viewBox="%s" width="%d" height="%d">
                <title>%s</title>
                <image href="%s" width="%d" height="%d"/>
                """.formatted(viewBox(), width, height, escaped(title), escaped(pictureHref), width, height));
        for (Drawn one : drawn) {
            String path = path(one);
            if (!path.isEmpty()) {
                for (String stroke : List.of(
                        text("stroke=\"#fff\" stroke-width=\"%.1f\"", letter / 3.5),
                        text("stroke=\"#b3261e\" stroke-width=\"%.1f\"", letter / 8))) {
                    out.append("<path fill=\"none\" stroke-linecap=\"round\" stroke-linejoin=\"round\" ")
                            .append(stroke)
                            .append(" d=\"")
                            .append(path)
                            .append("\"/>\n");
                }
            }
            out.append(text(
                            "<text x=\"%.1f\" y=\"%.1f\" font-family=\"sans-serif\" font-weight=\"bold\" font-size=\"%.1f\" "
                                    + "fill=\"#b3261e\" stroke=\"#fff\" stroke-width=\"%.1f\" stroke-linejoin=\"round\" paint-order=\"stroke\">",
                            labelX(one), labelY(one), letter, letter / 4))
                    .append(escaped(label(one)))
                    .append("</text>\n");
        }
        return out.append("</svg>\n").toString();
    }

    private static String text(String format, Object... values) {
        return String.format(Locale.ROOT, format, values);
    }

    /** XML has no way to write control characters. */
    private static String escaped(String words) {
        return words.replaceAll("[\\p{Cntrl}\\uFFFE\\uFFFF]", " ")
                .replace("&", "&amp;")
                .replace("<", "&lt;")
                .replace(">", "&gt;")
                .replace("\"", "&quot;");
    }
}
