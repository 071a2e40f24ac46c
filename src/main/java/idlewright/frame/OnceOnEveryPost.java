package idlewright.frame;

import java.lang.reflect.Method;
import org.springframework.aop.support.DefaultPointcutAdvisor;
import org.springframework.aop.support.StaticMethodMatcherPointcut;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.config.BeanDefinition;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.context.annotation.Role;
import org.springframework.core.annotation.AnnotatedElementUtils;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RestController;

/** No screen can forget it: every post of every screen goes through {@link Once}. */
@Configuration(proxyBeanMethods = false)
@Role(BeanDefinition.ROLE_INFRASTRUCTURE)
class OnceOnEveryPost {

    @Bean
    @Role(BeanDefinition.ROLE_INFRASTRUCTURE)
    static DefaultPointcutAdvisor onceOnEveryPostAdvisor(ObjectProvider<Once> once) {
        var posts = new StaticMethodMatcherPointcut() {
            @Override
            public boolean matches(Method method, Class<?> target) {
                return AnnotatedElementUtils.hasAnnotation(method, PostMapping.class)
                        && !method.isAnnotationPresent(WithoutOnce.class);
            }
        };
        posts.setClassFilter(OnceOnEveryPost::screen);
        return new DefaultPointcutAdvisor(posts, (org.aopalliance.intercept.MethodInterceptor)
                call -> once.getObject().invoke(call));
    }

    private static boolean screen(Class<?> type) {
        return AnnotatedElementUtils.hasAnnotation(type, Controller.class)
                && !AnnotatedElementUtils.hasAnnotation(type, RestController.class)
                && type.getName().startsWith("idlewright.");
    }
}
