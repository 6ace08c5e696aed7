from django.contrib import admin
from django.contrib.auth.views import LoginView, LogoutView
from django.urls import include, path

from classes.sessions import first_page as home
from config import views

urlpatterns = [
    path("", home.home, name="home"),
    path(
        "sign-in/",
        LoginView.as_view(template_name="sign_in.html", redirect_authenticated_user=True),
        name="sign-in",
    ),
    path("sign-out/", LogoutView.as_view(), name="sign-out"),
    path("health/", views.health, name="health"),
    path("robots.txt", views.robots, name="robots"),
    path("admin/", admin.site.urls),
    path("", include("classes.urls")),
    path("", include("recipes.urls")),
    path("", include("handouts.urls")),
    path("", include("house.urls")),
]

handler500 = "config.views.trouble"
