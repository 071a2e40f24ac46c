package idlewright.journal.model;

import idlewright.journal.rules.ImageMark;
import idlewright.journal.rules.Sketch;
import idlewright.journal.rules.Sketch.Drawn;
import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.FontFormatException;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.Shape;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Path2D;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.io.UncheckedIOException;
import org.springframework.core.io.ClassPathResource;

/** Paints marks into a copy of a picture: paper has no way to lay one over the other. */
final class Brush {

    private static final Color LINE = new Color(0xb3261e);
    private static final Font BOLD = font("AtkinsonHyperlegible-Bold.ttf");
    /** For letters that the first one has not. */
    private static final Font WIDER = font("DejaVuSans-Bold.ttf");

    private Brush() {}

    static BufferedImage paint(BufferedImage picture, Sketch sketch) {
        var copy = new BufferedImage(picture.getWidth(), picture.getHeight(), BufferedImage.TYPE_INT_RGB);
        Graphics2D on = copy.createGraphics();
        try {
            on.setColor(Color.WHITE);
            on.fillRect(0, 0, copy.getWidth(), copy.getHeight());
            on.drawImage(picture, 0, 0, null);
            on.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
            on.setRenderingHint(RenderingHints.KEY_STROKE_CONTROL, RenderingHints.VALUE_STROKE_PURE);
            for (Drawn one : sketch.drawn()) {
                if (one.kind() != ImageMark.Kind.WORDS) {
                    outlined(on, shape(sketch, one), sketch.letter() / 8);
                }
                Font font = BOLD.canDisplayUpTo(sketch.label(one)) < 0 ? BOLD : WIDER;
                var letters = font.deriveFont((float) sketch.letter())
                        .createGlyphVector(on.getFontRenderContext(), sketch.label(one));
                double most = copy.getWidth() - letters.getLogicalBounds().getWidth() - sketch.letter() / 4;
                Shape words = letters.getOutline(
                        (float) Math.max(0, Math.min(sketch.labelX(one), most)), (float) sketch.labelY(one));
                on.setStroke(round(sketch.letter() / 4));
                on.setColor(Color.WHITE);
                on.draw(words);
                on.setColor(LINE);
                on.fill(words);
            }
            return copy;
        } finally {
            on.dispose();
        }
    }

    /** White below and wider, so that it is seen on light and on dark. */
    private static void outlined(Graphics2D on, Shape shape, double width) {
        on.setStroke(round(width * 2.3));
        on.setColor(Color.WHITE);
        on.draw(shape);
        on.setStroke(round(width));
        on.setColor(LINE);
        on.draw(shape);
    }

    private static BasicStroke round(double width) {
        return new BasicStroke((float) width, BasicStroke.CAP_ROUND, BasicStroke.JOIN_ROUND);
    }

    private static Shape shape(Sketch sketch, Drawn one) {
        if (one.kind() == ImageMark.Kind.CIRCLE) {
            double reach = one.reach();
            return new Ellipse2D.Double(one.x() - reach, one.y() - reach, 2 * reach, 2 * reach);
        }
        double[] head = sketch.head(one);
        var path = new Path2D.Double();
        path.moveTo(one.toX(), one.toY());
        path.lineTo(one.x(), one.y());
        path.moveTo(head[0], head[1]);
        path.lineTo(one.x(), one.y());
        path.lineTo(head[2], head[3]);
        return path;
    }

    private static Font font(String name) {
        try (var in = new ClassPathResource("paper/fonts/" + name).getInputStream()) {
            return Font.createFont(Font.TRUETYPE_FONT, in);
        } catch (FontFormatException e) {
            throw new IllegalStateException(e);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
