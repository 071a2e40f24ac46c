package idlewright.frame;

import jakarta.servlet.http.HttpServletRequest;
import java.util.Map;
import java.util.UUID;
import org.springframework.beans.propertyeditors.StringTrimmerEditor;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.InitBinder;
import org.springframework.web.bind.annotation.ModelAttribute;

/** What every page carries: a fresh submission key (or the one of the form shown again) and the path it is at. */
@ControllerAdvice(annotations = Controller.class)
class EveryPage {

    /** A form that was refused keeps its key: nothing was kept under it. */
    @ModelAttribute("submission")
    String submission(HttpServletRequest request) {
        String typed = request.getParameter("submission");
        return typed != null && typed.length() == 36 ? typed : UUID.randomUUID().toString();
    }

    @ModelAttribute("path")
    String path(HttpServletRequest request) {
        return request.getRequestURI();
    }

    @ModelAttribute
    void tooLarge(HttpServletRequest request, Model model) {
        if (request.getAttribute(TooLarge.MARK) instanceof String most) {
            model.addAttribute(
                    "problems", Map.of("file", "The file is too large: %s at most. Nothing was kept.".formatted(most)));
        }
    }

    /** Blank is nothing; surrounding space is nobody's meaning. */
    @InitBinder
    void trim(WebDataBinder binder) {
        binder.registerCustomEditor(String.class, new StringTrimmerEditor(true));
    }
}
