package idlewright.demo;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.GradientPaint;
import java.awt.RenderingHints;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import javax.imageio.ImageIO;

/** A drawn stand-in for a photo of an air-flow sensor on the bench: the demo shop has no camera. */
final class Snapshot {

    private static final int WIDE = 960;
    private static final int HIGH = 640;

    private Snapshot() {}

    static InputStream ofSensor(boolean dirty) {
        var picture = new BufferedImage(WIDE, HIGH, BufferedImage.TYPE_INT_RGB);
        var pen = picture.createGraphics();
        pen.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
        pen.setPaint(new GradientPaint(0, 0, new Color(0xC9C4B8), 0, HIGH, new Color(0x8F8A7E)));
        pen.fillRect(0, 0, WIDE, HIGH);
        pen.setColor(new Color(0x2B2F33));
        pen.fillRoundRect(180, 170, 600, 300, 60, 60);
        pen.setColor(new Color(0x3C4247));
        pen.fillRoundRect(390, 70, 180, 120, 24, 24);
        pen.setColor(new Color(0x14171A));
        pen.fillOval(330, 200, 240, 240);
        pen.setColor(new Color(0xB9BFC4));
        pen.setStroke(new BasicStroke(6));
        pen.drawOval(330, 200, 240, 240);
        pen.setStroke(new BasicStroke(3));
        pen.drawLine(450, 205, 450, 435);
        pen.setColor(new Color(0xD9DEE2));
        pen.fillRect(425, 290, 50, 60);
        if (dirty) {
            pen.setColor(new Color(0x6B, 0x4A, 0x1C, 190));
            pen.fillOval(402, 272, 96, 92);
            pen.fillOval(380, 330, 60, 34);
            pen.fillOval(470, 262, 44, 30);
        }
        pen.setColor(new Color(0xE8E4DA));
        pen.setStroke(new BasicStroke(14, BasicStroke.CAP_ROUND, BasicStroke.JOIN_ROUND));
        pen.drawLine(620, 320, 730, 320);
        pen.drawLine(730, 320, 696, 288);
        pen.drawLine(730, 320, 696, 352);
        pen.dispose();
        var bytes = new ByteArrayOutputStream();
        try {
            ImageIO.write(picture, "png", bytes);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return new ByteArrayInputStream(bytes.toByteArray());
    }
}
